"""A quote's forms: what is typed is taken or, said beside it, refused with nothing lost."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from quoting.models import Quote
from quoting.models.quote import DiscountKind
from quoting.quotes.forms import DAY_HAS_GONE, SAY_HOW_MUCH, SAY_WHY
from tests.quoting.quotes.browsing import page

pytestmark = pytest.mark.usefixtures("noon")


# ---- What it says ----

CONDITIONS = {
    "message": "It was good to see the porch.",
    "terms": "Be kind.",
    "expires_on": "2026-06-18",
    "is_outside_hours": "on",
}


def test_what_the_quote_says_is_edited(quote: Quote, owner_client: Browser) -> None:
    address = reverse("quote_edit", args=[quote.pk])
    assert "The day is kept for you" in page(owner_client, "quote_edit", quote.pk)

    answer = owner_client.post(address, CONDITIONS)

    assert answer.url == reverse("quote_detail", args=[quote.pk])
    quote.refresh_from_db()
    assert (quote.message, quote.terms) == ("It was good to see the porch.", "Be kind.")
    assert quote.expires_on == date(2026, 6, 18)
    assert quote.is_outside_hours
    assert not quote.includes_strike


@pytest.mark.parametrize(
    ("expires_on", "message"),
    [
        ("2026-06-12", DAY_HAS_GONE),
        ("2026-06-21", "A quote cannot run out after the event, on 20 June 2026."),
        ("", "This field is required."),
        ("soon", "Enter a valid date."),
    ],
)
def test_a_day_that_cannot_be_is_said_and_nothing_is_lost(
    quote: Quote, owner_client: Browser, expires_on: str, message: str
) -> None:
    typed = {**CONDITIONS, "expires_on": expires_on}

    answer = owner_client.post(reverse("quote_edit", args=[quote.pk]), typed)

    assert answer.status_code == 422
    shown = answer.content.decode()
    assert message in shown
    assert "It was good to see the porch." in shown
    assert "Be kind." in shown


# ---- Discount ----


def discount(browser: Browser, quote: Quote, **typed: str):
    return browser.post(reverse("quote_discount", args=[quote.pk]), typed)


def test_a_discount_is_given_changed_and_taken_back(quote: Quote, owner_client: Browser) -> None:
    discount(owner_client, quote, kind="percent", percent="12.5", reason="Second booking")
    quote.refresh_from_db()
    assert (quote.discount_kind, quote.discount_bp) == (DiscountKind.PERCENT, 1250)
    assert "Second booking (12.5 %)" in page(owner_client, "quote_detail", quote.pk)

    discount(owner_client, quote, kind="amount", percent="12.5", amount="20", reason="Friends")
    quote.refresh_from_db()
    assert (quote.discount_bp, quote.discount_cents) == (0, 2000)

    discount(owner_client, quote, kind="none", amount="20", reason="Friends")
    quote.refresh_from_db()
    assert (quote.discount_kind, quote.discount_cents, quote.discount_reason) == ("none", 0, "")


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"kind": "percent", "reason": "Friends"}, SAY_HOW_MUCH),
        ({"kind": "percent", "percent": "0", "reason": "Friends"}, SAY_HOW_MUCH),
        ({"kind": "amount", "reason": "Friends"}, SAY_HOW_MUCH),
        ({"kind": "amount", "amount": "20"}, SAY_WHY),
        ({"kind": "percent", "percent": "101", "reason": "a"}, "Between 0 % and 100 %, please."),
        ({"kind": "percent", "percent": "NaN", "reason": "a"}, "Write a per cent such as 8.25."),
        ({"kind": "amount", "amount": "-5", "reason": "a"}, "Between $0.00 and"),
        ({"kind": "half", "reason": "a"}, "Select a valid choice."),
    ],
)
def test_a_discount_that_cannot_be_is_said(
    quote: Quote, owner_client: Browser, typed: dict[str, str], message: str
) -> None:
    answer = discount(owner_client, quote, **typed)

    assert answer.status_code == 422
    assert message in answer.content.decode()
    quote.refresh_from_db()
    assert quote.discount_kind == DiscountKind.NONE


# ---- Extra lines ----


def test_an_extra_line_is_added_edited_and_taken_off(quote: Quote, owner_client: Browser) -> None:
    typed = {"label": "Hired oak backdrop", "quantity": "2", "unit_cents": "65"}
    owner_client.post(reverse("quote_line_new", args=[quote.pk]), typed)
    line = quote.extra_lines.get()
    assert (line.label, line.quantity, line.unit_cents) == ("Hired oak backdrop", 2, 6500)

    edit = reverse("quote_line_edit", args=[line.pk])
    assert "Hired oak backdrop" in owner_client.get(edit).content.decode()
    owner_client.post(edit, {**typed, "unit_cents": "70.50"})
    line.refresh_from_db()
    assert line.unit_cents == 7050

    remove = reverse("quote_line_remove", args=[line.pk])
    assert "Take this line off the quote?" in owner_client.get(remove).content.decode()
    assert quote.extra_lines.exists()
    owner_client.post(remove)
    assert not quote.extra_lines.exists()


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"label": ""}, "Say what it is."),
        ({"label": "a" * 121}, "at most 120 characters"),
        ({"quantity": "0"}, "At least 1, please."),
        ({"quantity": "1001"}, "At most 1000, please."),
        ({"quantity": "2.5"}, "Write a whole number such as 2."),
        ({"unit_cents": ""}, "Say what one costs the client."),
        ({"unit_cents": "-1"}, "Between $0.00 and"),
        ({"unit_cents": "12.345"}, "Write an amount such as 12.50."),
        ({"unit_cents": "Infinity"}, "Write an amount such as 12.50."),
    ],
)
def test_a_line_that_cannot_be_is_said_and_kept_as_typed(
    quote: Quote, owner_client: Browser, wrong: dict[str, str], message: str
) -> None:
    typed = {"label": "Sign", "quantity": "3", "unit_cents": "17.25", **wrong}

    answer = owner_client.post(reverse("quote_line_new", args=[quote.pk]), typed)

    assert answer.status_code == 422
    shown = answer.content.decode()
    assert message in shown
    assert all(f'value="{value}"' in shown for value in typed.values() if value)
    assert not quote.extra_lines.exists()
