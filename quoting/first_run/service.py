"""The first answers: the business, its first rates and, if wanted, a catalogue to start from."""

import zoneinfo
from dataclasses import dataclass
from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import IntegrityError, transaction

from decor.models import Business
from inventory.catalogue.starter import add_starter_catalogue
from quoting.estimator import Rates
from quoting.rate_cards.service import rate_card_change
from quoting.rate_cards.terms import DEFAULT_TERMS

FIRST_NOTE = "The rates given at the start"


class AlreadyBegun(Exception):
    """There is a business: the first run has been done."""


@dataclass(frozen=True, kw_only=True)
class FirstAnswers:
    name: str
    owner_name: str
    units: str
    currency: str
    timezone: str
    paper: str
    rates: Rates
    with_starter_catalogue: bool


@transaction.atomic
def business_begin(
    *, answers: FirstAnswers, by: AbstractBaseUser | None, now: datetime
) -> Business:
    """All or nothing. Raises AlreadyBegun rather than begin twice."""
    if Business.objects.filter(pk=Business.THE_ONE).exists():
        raise AlreadyBegun
    business = Business(
        pk=Business.THE_ONE,
        name=answers.name,
        owner_name=answers.owner_name,
        units=answers.units,
        currency=answers.currency,
        timezone=answers.timezone,
        paper=answers.paper,
    )
    business.full_clean()
    _insert_only_once(business)
    today = now.astimezone(zoneinfo.ZoneInfo(answers.timezone)).date()
    rate_card_change(
        rates=answers.rates, terms=DEFAULT_TERMS, starts_on=today, note=FIRST_NOTE, by=by
    )
    if answers.with_starter_catalogue:
        add_starter_catalogue()
    return business


def _insert_only_once(business: Business) -> None:
    try:
        with transaction.atomic():
            business.save(force_insert=True)
    except IntegrityError:  # someone began in the same moment
        raise AlreadyBegun from None
