"""The database's own watch over the money: see decor/guards.py."""

from decor.guards import written_once

GUARDS = written_once(
    "decor_paymentline", row="payment_line", refusal="a payment line is written once"
)
