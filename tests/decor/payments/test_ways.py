from datetime import UTC, datetime

import pytest
from django.template.loader import render_to_string

from decor.models import Business
from decor.models.payment import DueKind
from decor.payments.account import account_of
from decor.payments.service import PlannedDue, schedule_set
from decor.payments.ways import PaymentWays, payment_ways, reference_of
from tests.conftest import TODAY
from tests.factories import JobFactory

PAGE = "decor/payments/partials/payment_ways.html"
IBAN = "DE89370400440532013000"


def ways_of(cents: int = 293_78, **business: str) -> PaymentWays:
    return payment_ways(
        business=Business(name="Larkspur Lane Garlands", **business),
        reference="LL-1001",
        amount_cents=cents,
    )


def shown(ways: PaymentWays) -> str:
    return render_to_string(PAGE, {"ways": ways, "business": Business(currency="USD")})


def test_who_has_said_nothing_of_paying_has_no_ways() -> None:
    assert ways_of().is_empty
    assert shown(ways_of()).strip() == ""


def test_the_owners_words_come_with_what_to_put_with_the_payment() -> None:
    page = shown(ways_of(how_to_pay="Cash or <check>."))
    assert "Cash or &lt;check&gt;." in page
    assert "LL-1001" in page


def test_a_link_says_how_much() -> None:
    page = shown(ways_of(payment_link="https://pay.example/?a=1&b=2"))
    assert 'href="https://pay.example/?a=1&amp;b=2"' in page
    assert "Pay $293.78 online" in page


def test_an_account_is_written_in_fours_with_its_holder() -> None:
    ways = ways_of(account_iban=IBAN)
    assert (ways.iban, ways.account_name) == (
        "DE89 3704 0044 0532 0130 00",
        "Larkspur Lane Garlands",
    )


@pytest.mark.parametrize(
    ("business", "cents", "has_code"),
    [
        ({"account_iban": IBAN, "currency": "EUR"}, 1, True),
        ({"account_iban": IBAN, "currency": "EUR"}, 0, False),
        ({"account_iban": IBAN, "currency": "USD"}, 1, False),
        ({"currency": "EUR"}, 1, False),
    ],
)
def test_only_euros_to_an_account_have_a_code(business, cents: int, has_code: bool) -> None:
    ways = ways_of(cents, **business)
    assert bool(ways.code) is has_code
    if has_code:
        assert "<svg" in shown(ways) and "style" not in shown(ways)


@pytest.mark.django_db
def test_the_reference_is_the_quotes_number_else_the_jobs() -> None:
    job = JobFactory()
    assert reference_of(account_of(job, today=TODAY)) == f"Job {job.pk}"
    schedule_set(
        job=job,
        dues=[PlannedDue(DueKind.WHOLE, TODAY, 100)],
        source="LL-1001, edition 2",
        now=datetime(2026, 6, 13, 15, tzinfo=UTC),
    )
    assert reference_of(account_of(job, today=TODAY)) == "LL-1001"
