"""What the owner should mind is said once an order, in the business's units."""

from datetime import date
from typing import Any

import pytest

from quoting.models import Quote
from quoting.quotes.page_warnings import PageWarning, page_warnings
from quoting.quotes.service import quote_priced
from tests.factories import PieceFactory, arch_spec


def high(metres: float, **site: Any) -> dict[str, Any]:
    return {**arch_spec(), "site": {"height_m": metres, **site}}


def warnings(quote: Quote, today: date, units: str = "imperial") -> list[PageWarning]:
    return list(page_warnings(quote_priced(quote, today=today), units=units))


@pytest.fixture
def three_high(quote: Quote) -> Quote:
    quote.pieces.update(spec=high(3.0))
    PieceFactory(quote=quote, title="Swag", spec=high(4.0))
    PieceFactory(quote=quote, title="Ring", spec=high(3.5))
    return quote


def test_three_pieces_on_ladders_are_warned_of_once_by_the_highest(
    three_high: Quote, today: date
) -> None:
    ladders = [one for one in warnings(three_high, today) if "ladder" in one.text]

    assert len(ladders) == 1
    assert "13 ft 1 in" in ladders[0].text  # 4.0 m over 0.0254 m an inch is 157.5 in
    assert ladders[0].about == ""


def test_it_is_said_in_the_businesss_units(three_high: Quote, today: date) -> None:
    (ladder,) = (one for one in warnings(three_high, today, "metric") if "ladder" in one.text)

    assert "Work at 4 m " in ladder.text
    assert " ft" not in ladder.text


def test_what_is_true_of_some_pieces_names_them(three_high: Quote, today: date) -> None:
    PieceFactory(quote=three_high, title="Line", spec={**arch_spec(), "path": LOW})

    (ladder,) = (one for one in warnings(three_high, today) if "ladder" in one.text)

    assert ladder.about == "Garland over the door, Swag, Ring"


LOW = {"kind": "line", "length_m": 2.0}


def test_gusts_are_said_of_each_piece_as_their_numbers_differ(quote: Quote, today: date) -> None:
    windy = {"outdoor": True, "gust_mps": 20.0}
    quote.pieces.update(spec=high(2.0, **windy))
    PieceFactory(quote=quote, title="Wide", spec={**arch_spec(width_m=4.0), "site": windy})

    stops = [one for one in warnings(quote, today) if one.is_grave]

    assert [one.about for one in stops] == ["Garland over the door", "Wide"]
    assert warnings(quote, today)[: len(stops)] == stops
