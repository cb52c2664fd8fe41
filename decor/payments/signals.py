"""Sent inside the transaction that made them true, so that other rooms act in the same breath."""

from django.dispatch import Signal

# With `line`, a PaymentLine: money came, went back, or a line was taken back.
money_moved = Signal()
# With `job` and `now`: what its client is to pay, or when, is another than before.
schedule_changed = Signal()
