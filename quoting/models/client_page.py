from django.conf import settings
from django.db import models

from decor.models.append_only import AppendOnly
from quoting.models.edition import Edition
from quoting.models.quote import Quote


class ClientLink(models.Model):
    """A private address of a quote's client page. Only its token's SHA-256 is kept."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="client_links")
    token_sha256 = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    revoked_at = models.DateTimeField(null=True, blank=True)
    first_opened_at = models.DateTimeField(null=True, blank=True)
    last_opened_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made_at", "-pk"]

    def __str__(self) -> str:
        return f"Client page of {self.quote}"


class AnswerKind(models.TextChoices):
    ACCEPTED = "accepted", "Accepted"
    DECLINED = "declined", "Declined"


class Outcome(models.TextChoices):
    """What became of an acceptance at once."""

    HELD = "held", "Everything is held"
    TO_BUY = "to_buy", "Held, and something must be bought"
    TO_CONFIRM = "to_confirm", "The owner must confirm"
    TIME_TAKEN = "time_taken", "Its time was taken meanwhile"


class ClientAnswer(AppendOnly):
    """What a client said to one edition, with what they saw. `chosen` are the pieces, by choice."""

    edition = models.ForeignKey(Edition, on_delete=models.PROTECT, related_name="answers")
    link = models.ForeignKey(
        ClientLink, on_delete=models.PROTECT, null=True, blank=True, related_name="answers"
    )
    kind = models.CharField(max_length=10, choices=AnswerKind)
    typed_name = models.CharField(max_length=120, blank=True)
    reason = models.TextField(max_length=1000, blank=True)
    chosen = models.JSONField(default=dict)
    net_cents = models.BigIntegerField(default=0)
    tax_cents = models.BigIntegerField(default=0)
    total_cents = models.BigIntegerField(default=0)
    at = models.DateTimeField()
    timezone = models.CharField(max_length=40)
    address = models.GenericIPAddressField(null=True, blank=True)
    pdf_sha256 = models.CharField(max_length=64)
    outcome = models.CharField(max_length=12, choices=Outcome, blank=True)
    note = models.CharField(max_length=600, blank=True, help_text="For the owner: why it is so")

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["edition"], name="an_edition_is_answered_once"),
            models.CheckConstraint(
                condition=models.Q(total_cents=models.F("net_cents") + models.F("tax_cents")),
                name="answer_total_is_net_and_tax",
            ),
            models.CheckConstraint(
                condition=models.Q(kind=AnswerKind.DECLINED, outcome="")
                | (
                    models.Q(kind=AnswerKind.ACCEPTED, outcome__in=Outcome.values)
                    & ~models.Q(typed_name="")
                ),
                name="who_accepts_gives_a_name_and_has_an_outcome",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.edition}"


class ClientQuestion(models.Model):
    """Something a client asked on their page. It waits on the job until it is answered."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="questions")
    text = models.TextField(max_length=2000)
    typed_name = models.CharField(max_length=120, blank=True)
    asked_at = models.DateTimeField()
    answered_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["asked_at", "pk"]
        constraints = [
            models.CheckConstraint(condition=~models.Q(text=""), name="question_says_something"),
        ]

    def __str__(self) -> str:
        return self.text[:60]
