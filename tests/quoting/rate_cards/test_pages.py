from datetime import date, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from quoting.models import RateCard
from quoting.rate_cards.terms import DEFAULT_TERMS, HAVE_TERMS_CHECKED
from quoting.rate_cards.views import CHANGED, NOTHING_CHANGED
from tests.factories import QuoteFactory, RateCardFactory
from tests.quoting.rate_cards.cards import TODAY, as_sent, card_with

LIST, CHANGE = reverse("rate_card_list"), reverse("rate_card_change")
MARKUP = reverse("rate_card_markup")


@pytest.fixture(autouse=True)
def _a_saturday_in_june(time_machine):
    time_machine.move_to("2026-06-13 12:00Z", tick=False)


def detail(version: int) -> str:
    return reverse("rate_card_detail", args=[version])


def typed(browser, **changes: str) -> dict[str, str]:
    return as_sent(browser.get(CHANGE).context["form"]) | changes


def test_an_empty_list_says_what_to_do_first(owner_client):
    page = owner_client.get(LIST).text
    assert "No rates yet" in page
    assert CHANGE in page


def test_the_list_shows_every_card_and_which_is_in_use(owner_client):
    card_with(version=1, starts_on=date(2026, 1, 1))
    card_with(version=2, starts_on=date(2026, 7, 1), margin_bp=4000)
    page = owner_client.get(LIST).text
    assert page.index("Rate card 2") < page.index("Rate card 1")
    assert "From Thursday 1 January 2026 until Tuesday 30 June 2026" in page
    assert "starts later" in page
    assert "in use" in page
    assert "margin 40 % of the price" in page


def test_the_list_takes_as_many_queries_for_nine_cards_as_for_one(
    owner_client, django_assert_num_queries
):
    RateCardFactory()
    with CaptureQueriesContext(connection) as one:
        owner_client.get(LIST)
    for version in range(2, 10):
        RateCardFactory(version=version)
    with django_assert_num_queries(len(one)):
        owner_client.get(LIST)


def test_a_card_explains_itself(owner_client):
    card_with(version=1)
    page = owner_client.get(detail(1)).text
    for said in (
        "$26.00 an hour",
        "10 % of the costs before it",
        "a markup of 53.85 % on cost",
        "22.37 mph",
        "50 % of the total",
    ):
        assert said in page
    assert "What changed" not in page


def test_a_card_says_what_changed_from_the_one_before(owner_client):
    card_with(version=1)
    card_with(version=2, margin_bp=4000)
    page = owner_client.get(detail(2)).text
    assert "What changed since rate card 1" in page
    assert "Margin: 40 % of the price, before 35 % of the price" in page
    RateCardFactory(version=3, rates=RateCard.objects.get(version=2).rates)
    assert "Only the day from which it holds." in owner_client.get(detail(3)).text


def test_a_card_that_is_not_there_is_not_found(owner_client):
    assert owner_client.get(detail(7)).status_code == 404
    assert owner_client.get(f"{CHANGE}?from=7").status_code == 404


def test_a_card_is_never_posted_to(owner_client):
    RateCardFactory()
    assert owner_client.post(detail(1)).status_code == 405
    assert owner_client.post(LIST).status_code == 405


def test_the_form_starts_from_the_card_in_use(owner_client):
    card_with(version=1, margin_bp=3000)
    card_with(version=2, starts_on=TODAY + timedelta(days=20), margin_bp=5000)
    assert owner_client.get(CHANGE).context["form"]["margin_bp"].value() == "30"
    page = owner_client.get(f"{CHANGE}?from=2")
    assert page.context["form"]["margin_bp"].value() == "50"
    assert "a <strong>markup of 100 %" in page.text.replace("The same as ", "")


def test_with_no_card_the_form_starts_from_our_own_rates_and_terms(owner_client):
    form = owner_client.get(CHANGE).context["form"]
    assert form["margin_bp"].value() == "35"
    assert form["terms"].value() == DEFAULT_TERMS
    assert form["starts_on"].value() == TODAY
    assert HAVE_TERMS_CHECKED in owner_client.get(CHANGE).text


def test_a_change_makes_the_next_version_and_leaves_quotes_alone(owner_client, owner):
    quote = QuoteFactory(rate_card=RateCardFactory())
    reply = owner_client.post(
        CHANGE, typed(owner_client, margin_bp="40", note="Balloons cost more"), follow=True
    )
    assert reply.redirect_chain[0][0] == detail(2)
    assert CHANGED.format(version=2) in reply.text
    card = RateCard.objects.get(version=2)
    assert (card.as_rates().margin_bp, card.note, card.created_by) == (
        4000,
        "Balloons cost more",
        owner,
    )
    assert card.terms == RateCard.objects.get(version=1).terms
    quote.refresh_from_db()
    assert quote.rate_card.version == 1


def test_sending_the_form_twice_makes_one_version(owner_client):
    RateCardFactory()
    data = typed(owner_client, margin_bp="40")
    owner_client.post(CHANGE, data)
    reply = owner_client.post(CHANGE, data, follow=True)
    assert NOTHING_CHANGED.format(version=2) in reply.text
    assert RateCard.objects.count() == 2


def test_a_wrong_form_comes_back_as_typed_with_the_reason(owner_client):
    RateCardFactory()
    reply = owner_client.post(
        CHANGE, typed(owner_client, margin_bp="100", note="More", labour_cents_per_hour="abc")
    )
    assert reply.status_code == 422
    assert RateCard.objects.count() == 1
    for kept in ('value="100"', 'value="More"', 'value="abc"', 'href="#id_margin_bp"'):
        assert kept in reply.text
    assert "a margin of 100 % would leave nothing" in reply.text


def test_a_form_with_nothing_in_it_is_refused(owner_client):
    RateCardFactory()
    reply = owner_client.post(CHANGE, {"csrfmiddlewaretoken": "x"})
    assert reply.status_code == 422
    assert RateCard.objects.count() == 1


# Cost 40 at 50 % markup sells at 60; margin 20 % is markup 25 %; margin 50 % doubles: school texts.
@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("20", ["markup of 25 %", "costs $100.00 is sold at $125.00"]),
        ("50", ["markup of 100 %", "is sold at $200.00"]),
        ("33.33", ["markup of 49.99 %", "is sold at $149.99"]),
        ("0", ["markup of 0 %", "is sold at $100.00"]),
        ("100", ["Write a margin from 0 to 95 %."]),
        ("NaN", ["Write a margin from 0 to 95 %."]),
        ("", ["Write a margin from 0 to 95 %."]),
    ],
)
def test_the_markup_is_said_while_a_margin_is_typed(owner_client, typed, said):
    page = owner_client.get(MARKUP, {"margin_bp": typed}).text
    assert all(words in page for words in said)


def test_a_metric_business_is_asked_in_its_own_units(owner_client, business):
    business.units, business.currency = "metric", "EUR"
    business.save()
    RateCardFactory()
    page = owner_client.get(CHANGE).text
    for label in ("For each km on the road (EUR)", "gusts over (km/h)", "vehicle holds (cubic met"):
        assert label in page
