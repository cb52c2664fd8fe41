from datetime import UTC, date, datetime

import pytest
from django.db import connection
from django.test import Client as Browser
from django.urls import reverse

from decor.models import Business
from inventory.models import Colour
from quoting.first_run import service
from quoting.first_run.forms import NAME_MISSING, FirstRunForm
from quoting.first_run.service import AlreadyBegun, business_begin
from quoting.models import RateCard
from quoting.rate_cards.folds import MARGIN_OUT_OF_RANGE
from quoting.rate_cards.service import current_rate_card
from quoting.rate_cards.terms import DEFAULT_TERMS
from tests.factories import BusinessFactory
from tests.quoting.rate_cards.cards import as_sent

PAGE, HOME = reverse("first_run"), reverse("home")
LATE = datetime(2026, 6, 14, 2, tzinfo=UTC)  # still the 13th in New York


@pytest.fixture
def newcomer(owner) -> Browser:
    """Logged in after `migrate` and `createsuperuser`, with no business yet."""
    browser = Browser()
    browser.force_login(owner)
    return browser


def typed(**changes: str) -> dict[str, str]:
    """The defaults and a name: what a hurried owner sends."""
    data = as_sent(FirstRunForm()) | {"name": "Larkspur Lane Garlands"} | changes
    return {name: value for name, value in data.items() if value != "off"}


@pytest.mark.parametrize("name", ["home", "catalogue", "rate_card_list", "business_edit"])
def test_every_page_leads_to_the_first_questions(newcomer, name):
    assert newcomer.get(reverse(name)).url == PAGE


def test_a_stranger_is_asked_to_log_in_first(client, db):
    assert client.get(PAGE).url == f"{reverse('login')}?next={PAGE}"


def test_the_page_offers_no_places_that_would_only_lead_back(newcomer):
    page = newcomer.get(PAGE)
    assert page.status_code == 200
    assert 'aria-label="Places"' not in page.text


def test_a_name_is_enough(newcomer, owner):
    assert newcomer.post(PAGE, typed()).url == HOME
    business = Business.objects.get()
    assert (business.pk, business.name, business.is_demo) == (1, "Larkspur Lane Garlands", False)
    card = RateCard.objects.get()
    assert (card.version, card.terms, card.created_by) == (1, DEFAULT_TERMS, owner)
    rates = card.as_rates()
    assert (rates.tax_bp, rates.margin_bp, rates.deposit_bp) == (0, 3500, 5000)
    assert rates.travel_cents_per_km == pytest.approx(43.496, abs=1e-3)  # 70 cents a mile
    assert Colour.objects.count() == 12
    assert newcomer.get(reverse("catalogue")).status_code == 200


def test_every_answer_is_kept(newcomer):
    newcomer.post(
        PAGE,
        typed(
            owner_name="Nell",
            units="metric",
            currency="EUR",
            timezone="europe/dublin",
            paper="a4",
            labour_cents_per_hour="24.50",
            margin_bp="40",
            minimum_cents="150",
            travel_cents_per_km="0.38",
            deposit_bp="30",
            tax_bp="13.5",
            tax_inclusive="True",
            with_starter_catalogue="off",
        ),
    )
    business, rates = Business.objects.get(), RateCard.objects.get().as_rates()
    assert (business.owner_name, business.units, business.currency) == ("Nell", "metric", "EUR")
    assert (business.timezone, business.paper) == ("Europe/Dublin", "a4")
    assert (rates.currency, rates.labour_cents_per_hour, rates.margin_bp) == ("EUR", 2450, 4000)
    assert (rates.minimum_cents, rates.travel_cents_per_km) == (15_000, 38.0)
    assert (rates.deposit_bp, rates.tax_bp, rates.tax_inclusive) == (3000, 1350, True)
    assert not Colour.objects.exists()


@pytest.mark.parametrize(
    ("change", "field", "message"),
    [
        ({"name": "  "}, "name", NAME_MISSING),
        ({"timezone": "Wexcombe Bay"}, "timezone", "is not a time zone"),
        ({"timezone": "/etc/passwd"}, "timezone", "is not a time zone"),
        ({"units": "cubits"}, "units", "valid choice"),
        ({"currency": "GOLD"}, "currency", "valid choice"),
        ({"paper": "a3"}, "paper", "valid choice"),
        ({"margin_bp": "100"}, "margin_bp", MARGIN_OUT_OF_RANGE),
        ({"labour_cents_per_hour": "-3"}, "labour_cents_per_hour", "Between $0.00"),
        ({"travel_cents_per_km": "NaN"}, "travel_cents_per_km", "Write a number"),
        ({"tax_bp": "200"}, "tax_bp", "Between 0 % and 100 %"),
        ({"deposit_bp": ""}, "deposit_bp", "required"),
    ],
)
def test_a_wrong_answer_is_said_beside_its_field_and_nothing_is_lost(
    newcomer, change, field, message
):
    sent = typed(owner_name="Nell") | change
    reply = newcomer.post(PAGE, sent)
    form = reply.context["form"]
    assert reply.status_code == 422
    assert list(form.errors) == [field]
    assert message in form.errors[field][0]
    assert form["owner_name"].value() == "Nell"
    assert form[field].value() == change[field]
    assert not Business.objects.exists()
    assert not RateCard.objects.exists()


def test_it_is_asked_once(newcomer):
    newcomer.post(PAGE, typed())
    assert newcomer.get(PAGE).url == HOME
    assert newcomer.post(PAGE, typed(name="Another")).url == HOME
    assert [business.name for business in Business.objects.all()] == ["Larkspur Lane Garlands"]
    assert RateCard.objects.count() == 1


def answers(**changes: str) -> service.FirstAnswers:
    form = FirstRunForm(typed(**changes))
    assert form.is_valid(), form.errors
    return form.answers()


def test_the_first_card_starts_on_the_day_it_is_where_the_business_is(db):
    business_begin(answers=answers(), by=None, now=LATE)
    assert RateCard.objects.get().starts_on == date(2026, 6, 13)
    assert current_rate_card(on=date(2026, 6, 13)).version == 1


def test_beginning_twice_is_refused_and_changes_nothing(db):
    BusinessFactory(name="There before")
    with pytest.raises(AlreadyBegun):
        business_begin(answers=answers(), by=None, now=LATE)
    assert Business.objects.get().name == "There before"
    assert not RateCard.objects.exists()


@pytest.mark.django_db(transaction=True)
def test_it_is_all_or_nothing():
    """The last step is made to fail in the database itself: its table is not where it should be."""
    with connection.cursor() as cursor:
        cursor.execute("ALTER TABLE inventory_item RENAME TO inventory_item_away")
    try:
        with pytest.raises(Exception, match="inventory_item"):
            business_begin(answers=answers(), by=None, now=LATE)
    finally:
        with connection.cursor() as cursor:
            cursor.execute("ALTER TABLE inventory_item_away RENAME TO inventory_item")
    assert not Business.objects.exists()
    assert not RateCard.objects.exists()
    assert not Colour.objects.exists()
