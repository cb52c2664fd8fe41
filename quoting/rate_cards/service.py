"""Which rates hold on a day, and how they are changed: by a new version, never by an edit."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.db.models import TextChoices

from quoting.estimator import Rates, rates_to_dict
from quoting.models import RateCard


def current_rate_card(*, on: date) -> RateCard:
    """The card that started last by that day; before any has started, the first that will.

    RateCard.DoesNotExist where there is none at all, which the first run sees to.
    """
    return card_in_force(rate_cards_newest_first(), on=on)


def rate_cards_newest_first() -> list[RateCard]:
    """The latest to start at the top; of two that start on one day, the later version."""
    return list(RateCard.objects.order_by("-starts_on", "-version"))


def card_in_force(cards: Sequence[RateCard], *, on: date) -> RateCard:
    """Of cards in the order of `rate_cards_newest_first`."""
    if not cards:
        raise RateCard.DoesNotExist("There is no rate card yet.")
    return next((card for card in cards if card.starts_on <= on), cards[-1])


def newer_card_than(card: RateCard, *, on: date) -> RateCard | None:
    """The card in force on that day, if it takes the place of this one."""
    current = current_rate_card(on=on)
    is_newer = (current.starts_on, current.version) > (card.starts_on, card.version)
    return current if is_newer else None


class CardState(TextChoices):
    NOW = "now", "in use"
    LATER = "later", "starts later"
    PAST = "past", "past"
    REPLACED = "replaced", "replaced"


@dataclass(frozen=True)
class CardInTime:
    """`until` is the last day it holds, None where nothing follows or it never came to hold."""

    card: RateCard
    state: CardState
    until: date | None


def cards_in_time(*, on: date) -> list[CardInTime]:
    """Every card, the latest to start first."""
    cards = rate_cards_newest_first()
    if not cards:
        return []
    in_force = card_in_force(cards, on=on)
    next_starts = [None, *(card.starts_on for card in cards)]
    return [
        _in_time(card, following, in_force=in_force, on=on)
        for card, following in zip(cards, next_starts, strict=False)
    ]


def _in_time(card: RateCard, following: date | None, *, in_force: RateCard, on: date) -> CardInTime:
    until = following - timedelta(days=1) if following else None
    if card == in_force:
        return CardInTime(card, CardState.NOW, until)
    if until and until < card.starts_on:
        return CardInTime(card, CardState.REPLACED, None)
    is_past = card.starts_on <= on
    return CardInTime(card, CardState.PAST if is_past else CardState.LATER, until)


@transaction.atomic
def rate_card_change(
    *, rates: Rates, terms: str, starts_on: date, note: str, by: AbstractBaseUser | None
) -> RateCard:
    """The next version. Where nothing differs from what holds that day anyway, that card itself.

    So a form that is sent twice makes one version.
    """
    # Whoever waits here takes the next number after the other's. On SQLite, where the lock is
    # ignored, the transaction itself has waited.
    newest = RateCard.objects.select_for_update(no_key=True).order_by("-version").first()
    if newest:
        newest = RateCard.objects.order_by("-version")[0]
        in_force = current_rate_card(on=starts_on)
        if (in_force.as_rates(), in_force.terms) == (rates, terms):
            return in_force
    card = RateCard(
        version=newest.version + 1 if newest else 1,
        starts_on=starts_on,
        note=note,
        rates=rates_to_dict(rates),
        terms=terms,
        created_by=by,
    )
    card.full_clean()
    card.save()
    return card
