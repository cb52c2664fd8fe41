"""Quote numbers: the business's initials and a number that only goes up, whoever asks at once."""

from datetime import date

import pytest
from django.db import transaction

from decor.models import Business
from quoting.models import Quote
from quoting.quotes.numbering import initials_of, next_quote_number
from quoting.quotes.service import quote_start
from tests.factories import BusinessFactory, JobFactory, QuoteFactory, RateCardFactory
from tests.processes import race, racers

STARTERS, EACH = 4, 5


@pytest.mark.parametrize(
    ("name", "initials"),
    [
        ("Larkspur Lane Garlands", "LL"),
        ("larkspur lane", "LL"),
        ("Larkspur", "LA"),
        ("L", "L"),
        ("The 4th Street Garland Room", "TT"),
        ("Émile & Zoë", "EZ"),
        ("“Quill” & Kettle", "QK"),
        ("風船", "Q"),
        ("1 2 3", "Q"),
    ],
)
def test_the_prefix_is_two_letters_of_the_name(name: str, initials: str) -> None:
    assert initials_of(name) == initials


def test_the_first_quote_has_the_first_number(business: Business) -> None:
    with transaction.atomic():
        assert next_quote_number() == "LL-1001"


def test_numbers_go_on_when_the_business_takes_another_name(business: Business) -> None:
    QuoteFactory(number="LL-1042")
    Business.objects.update(name="Quill and Kettle")

    with transaction.atomic():
        assert next_quote_number() == "QA-1043"


def test_a_number_above_9999_still_counts_up(business: Business) -> None:
    QuoteFactory(number="LL-9999")

    with transaction.atomic():
        assert next_quote_number() == "LL-10000"


@pytest.mark.django_db(transaction=True)
def test_quotes_started_at_once_get_numbers_of_their_own() -> None:
    BusinessFactory()
    RateCardFactory()
    job = str(JobFactory().pk)
    with racers("tests.quoting.quotes.starter", *[job] * STARTERS) as starters:
        for _ in range(EACH):
            assert race(starters, ["go"] * STARTERS) == {"started": STARTERS}
    numbers = Quote.objects.values_list("number", flat=True)
    assert sorted(numbers) == [f"LL-{1001 + n}" for n in range(STARTERS * EACH)]


def test_without_the_lock_two_would_get_the_same_number(business: Business) -> None:
    """What the lock is for: the number is read first and written later."""
    RateCardFactory()
    with transaction.atomic():
        one, other = next_quote_number(), next_quote_number()

    assert one == other
    started = quote_start(job=JobFactory(), today=date(2026, 6, 13))
    assert Quote.objects.get().number == started.number == one
