"""Latex grows weak with age, however well it is kept."""

from calendar import monthrange
from dataclasses import dataclass
from datetime import date

from django.db import models

from inventory.models import Item, ShelfSettings
from inventory.models.item import Kind
from inventory.models.shelf_settings import LATEX_BEST_MONTHS

SOON_MONTHS = 3
MONTHS_A_YEAR = 12


class Age(models.TextChoices):
    FRESH = "fresh", "Fresh"
    USE_SOON = "use_soon", "Use soon"
    PAST_BEST = "past_best", "Past its best"


@dataclass(frozen=True)
class BestBefore:
    """How long latex is good for, and what day it is."""

    months: int
    today: date

    def day_of(self, received_on: date) -> date:
        return _months_after(received_on, self.months)

    def age_of(self, item: Item, received_on: date) -> Age:
        if item.kind != Kind.LATEX:
            return Age.FRESH
        best_until = self.day_of(received_on)
        if self.today > best_until:
            return Age.PAST_BEST
        return Age.USE_SOON if _months_after(self.today, SOON_MONTHS) > best_until else Age.FRESH


def best_before(*, today: date) -> BestBefore:
    settings = ShelfSettings.objects.filter(pk=ShelfSettings.THE_ONE).first()
    return BestBefore(settings.latex_best_months if settings else LATEX_BEST_MONTHS, today)


def _months_after(day: date, months: int) -> date:
    """The same day of a later month, or that month's last where it is shorter."""
    years, month = divmod(day.month - 1 + months, MONTHS_A_YEAR)
    year = day.year + years
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))
