from django.conf import settings
from django.db import models

from decor.models.job import Job


class LetterKind(models.TextChoices):
    QUOTE = "quote", "Quote"
    QUOTE_REMINDER = "quote_reminder", "Reminder of a quote"
    PAYMENT_REMINDER = "payment_reminder", "Reminder of a payment"
    PAYMENT_IN = "payment_in", "Payment received"
    DAY_BEFORE = "day_before", "The day before"
    THANK_YOU = "thank_you", "Thank you"
    # Confirmations of what the client just did: these alone go without a press of the owner's.
    ACCEPTED = "accepted", "They accepted"
    DECLINED = "declined", "They declined"
    ASKED = "asked", "They asked a question"
    NOTICE = "notice", "A notice to yourself"


class LetterText(models.Model):
    """The owner's own words for one kind of letter, with fields in braces."""

    kind = models.CharField(max_length=20, choices=LetterKind, unique=True)
    subject = models.CharField(max_length=150)
    body = models.TextField(max_length=4000)

    def __str__(self) -> str:
        return self.get_kind_display()


class LetterState(models.TextChoices):
    WAITING = "waiting", "Waiting to go"
    SENT = "sent", "Sent"
    FAILED = "failed", "Not sent"
    STOPPED = "stopped", "Stopped"


class Letter(models.Model):
    """One e-mail in the outbox, as it goes out. It waits here until a mail server has taken it."""

    job = models.ForeignKey(
        Job, on_delete=models.PROTECT, null=True, blank=True, related_name="letters"
    )
    kind = models.CharField(max_length=20, choices=LetterKind)
    to = models.EmailField()
    subject = models.CharField(max_length=150)
    body = models.TextField(max_length=8000)
    attachment_name = models.CharField(max_length=80, blank=True)
    attachment_type = models.CharField(max_length=40, blank=True)
    attachment = models.BinaryField(null=True, blank=True)
    state = models.CharField(max_length=10, choices=LetterState, default=LetterState.WAITING)
    tries = models.PositiveSmallIntegerField(default=0)
    next_try_at = models.DateTimeField(null=True, blank=True)
    last_error = models.CharField(max_length=300, blank=True)
    # Which press, or which fact, it is about, so that nothing is said twice.
    entry_key = models.CharField(max_length=80, null=True, blank=True, unique=True)
    written_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    written_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-written_at", "-pk"]
        indexes = [models.Index(fields=["state", "next_try_at"], name="letter_by_state")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(state__in=LetterState.values), name="letter_state_is_known"
            ),
            models.CheckConstraint(
                condition=models.Q(state=LetterState.SENT, sent_at__isnull=False)
                | (~models.Q(state=LetterState.SENT) & models.Q(sent_at=None)),
                name="letter_sent_has_its_time",
            ),
        ]

    def __str__(self) -> str:
        return self.subject
