from datetime import date, timedelta

import pytest

from quoting.estimator import rates_to_dict
from quoting.models import RateCard
from quoting.rate_cards.service import (
    CardState,
    cards_in_time,
    current_rate_card,
    newer_card_than,
    rate_card_change,
)
from tests.factories import QuoteFactory, RateCardFactory
from tests.quoting.rate_cards.cards import TODAY, card_with, rates_with

DAY = timedelta(days=1)
pytestmark = pytest.mark.django_db


def changed(*, starts_on: date = TODAY, terms: str = "Our terms", **rates) -> RateCard:
    return rate_card_change(
        rates=rates_with(**rates), terms=terms, starts_on=starts_on, note="", by=None
    )


def test_the_first_card_is_version_one_and_each_change_the_next():
    assert [changed(margin_bp=bp).version for bp in (3000, 3500, 4000)] == [1, 2, 3]


def test_a_card_holds_from_its_day_on():
    first, second = changed(), changed(starts_on=TODAY + DAY, margin_bp=4000)
    assert current_rate_card(on=TODAY) == first
    assert current_rate_card(on=TODAY + DAY) == second
    assert current_rate_card(on=TODAY + 400 * DAY) == second


def test_of_two_cards_that_start_on_one_day_the_later_version_holds():
    changed()
    second = changed(margin_bp=4000)
    assert current_rate_card(on=TODAY) == second


def test_a_card_planned_before_still_starts_on_its_day():
    changed()
    planned = changed(starts_on=TODAY + 30 * DAY, margin_bp=5000)
    now = changed(margin_bp=4000)
    assert current_rate_card(on=TODAY + 29 * DAY) == now
    assert current_rate_card(on=TODAY + 30 * DAY) == planned


def test_before_any_card_has_started_the_first_to_start_holds():
    later = changed(starts_on=TODAY + 9 * DAY)
    sooner = changed(starts_on=TODAY + 3 * DAY, margin_bp=4000)
    assert later != sooner
    assert current_rate_card(on=TODAY) == sooner


def test_with_no_card_at_all_there_is_none_to_give():
    with pytest.raises(RateCard.DoesNotExist):
        current_rate_card(on=TODAY)
    assert cards_in_time(on=TODAY) == []


def test_a_change_sent_twice_makes_one_version():
    first = changed(margin_bp=4000)
    assert changed(margin_bp=4000) == first
    assert changed(margin_bp=4000, starts_on=TODAY + DAY) == first
    assert RateCard.objects.count() == 1


def test_going_back_to_old_rates_is_a_change():
    changed(margin_bp=3000)
    changed(margin_bp=4000)
    assert changed(margin_bp=3000).version == 3


def test_terms_alone_are_a_change():
    changed()
    assert changed(terms="Other terms").version == 2


def test_a_change_takes_nothing_from_a_card_before_or_a_quote_made_with_it():
    card = changed()
    kept = rates_to_dict(card.as_rates())
    quote = QuoteFactory(rate_card=card)
    changed(margin_bp=9000, terms="All is new")
    quote.refresh_from_db()
    assert quote.rate_card == card
    assert RateCard.objects.get(version=1).rates == kept
    assert quote.terms == "Our terms"


def test_a_newer_card_is_offered_once_it_has_started():
    old = changed()
    new = changed(starts_on=TODAY + DAY, margin_bp=4000)
    assert newer_card_than(old, on=TODAY) is None
    assert newer_card_than(old, on=TODAY + DAY) == new
    assert newer_card_than(new, on=TODAY + DAY) is None


def test_an_older_card_is_never_offered_as_newer():
    changed()
    planned = changed(starts_on=TODAY + 30 * DAY, margin_bp=5000)
    assert newer_card_than(planned, on=TODAY) is None


def test_the_list_says_which_card_holds_when():
    card_with(version=1, starts_on=TODAY - 60 * DAY)
    card_with(version=2, starts_on=TODAY - 30 * DAY)
    card_with(version=3, starts_on=TODAY - 30 * DAY)
    card_with(version=4, starts_on=TODAY + 30 * DAY)
    said = [(at.card.version, at.state, at.until) for at in cards_in_time(on=TODAY)]
    assert said == [
        (4, CardState.LATER, None),
        (3, CardState.NOW, TODAY + 29 * DAY),
        (2, CardState.REPLACED, None),
        (1, CardState.PAST, TODAY - 31 * DAY),
    ]


def test_finding_the_card_takes_one_query(django_assert_num_queries):
    for version in range(1, 9):
        RateCardFactory(version=version)
    with django_assert_num_queries(1):
        current_rate_card(on=TODAY)
