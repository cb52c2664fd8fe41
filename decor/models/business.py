import zoneinfo

from django.core.exceptions import ValidationError
from django.db import models

from decor.clients.keys import phone_to_dial
from decor.models.located import Located


class Units(models.TextChoices):
    IMPERIAL = "imperial", "Feet and inches"
    METRIC = "metric", "Metres"


class Paper(models.TextChoices):
    LETTER = "letter", "US Letter"
    A4 = "a4", "A4"


class Currency(models.TextChoices):
    """Currencies whose smallest unit is a hundredth, as all money here is whole hundredths."""

    USD = "USD", "US dollar"
    EUR = "EUR", "Euro"
    GBP = "GBP", "Pound sterling"
    CAD = "CAD", "Canadian dollar"
    AUD = "AUD", "Australian dollar"
    NZD = "NZD", "New Zealand dollar"
    CHF = "CHF", "Swiss franc"
    SEK = "SEK", "Swedish krona"
    NOK = "NOK", "Norwegian krone"
    DKK = "DKK", "Danish krone"
    PLN = "PLN", "Polish zloty"
    ZAR = "ZAR", "South African rand"


def validate_timezone(name: str) -> None:
    if name not in zoneinfo.available_timezones():
        raise ValidationError(f"{name} is not a time zone: use one such as America/New_York.")


class Business(Located):
    """The one business that uses this installation."""

    THE_ONE = 1

    name = models.CharField(max_length=80)
    owner_name = models.CharField(max_length=80, blank=True)
    strapline = models.CharField(max_length=120, blank=True)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    address = models.TextField(max_length=400, blank=True)
    logo = models.FileField(upload_to="logo/", blank=True)
    units = models.CharField(max_length=10, choices=Units, default=Units.IMPERIAL)
    currency = models.CharField(max_length=3, choices=Currency, default=Currency.USD)
    timezone = models.CharField(
        max_length=40, default="America/New_York", validators=[validate_timezone]
    )
    paper = models.CharField(max_length=10, choices=Paper, default=Paper.LETTER)
    how_to_accept = models.TextField(max_length=600, blank=True)
    how_to_pay = models.TextField(max_length=600, blank=True)
    payment_link = models.URLField(max_length=300, blank=True)
    account_name = models.CharField(max_length=70, blank=True)
    account_iban = models.CharField(max_length=34, blank=True)
    account_bic = models.CharField(max_length=11, blank=True)
    # A garland hangs this long before the event begins, and whoever hangs it comes within a window.
    ready_before_minutes = models.PositiveSmallIntegerField(default=60)
    arrival_window_minutes = models.PositiveSmallIntegerField(default=30)
    client_page_days = models.PositiveSmallIntegerField(
        default=14, help_text="How long after the event a client's page can be opened"
    )
    session_minutes_most = models.PositiveSmallIntegerField(
        default=240, help_text="How long each person stays at the bench for one job on one day"
    )
    is_demo = models.BooleanField(default=False, editable=False)

    class Meta:
        verbose_name_plural = "businesses"
        constraints = [
            *Located.Meta.constraints,
            models.CheckConstraint(condition=models.Q(id=1), name="there_is_one_business"),
            models.CheckConstraint(
                condition=models.Q(session_minutes_most__gte=30, session_minutes_most__lte=1440),
                name="session_is_within_a_day",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def phone_to_dial(self) -> str:
        return phone_to_dial(self.phone)
