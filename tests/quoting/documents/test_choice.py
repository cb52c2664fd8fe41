"""Variants on the client's quote: side by side, each with its price, and how to choose."""

import re
from datetime import date
from decimal import Decimal

import pytest

from decor.display import money_text
from quoting.documents.client_facts import client_facts, differing
from quoting.estimator import example_catalogue, spec_from_dict
from quoting.quotes.editions import Draft, draft_of
from tests.factories import PieceFactory, arch_spec
from tests.quoting.documents.reading import structure_of, words_of
from tests.quoting.quotes.conftest import large_quote  # noqa: F401
from tests.quoting.quotes.variants import beside, with_variants


@pytest.fixture
def choosing(large_quote, today: date) -> Draft:  # noqa: F811
    with_variants(large_quote)
    return draft_of(large_quote, today=today)


def test_every_variant_is_there_with_the_total_it_would_make(choosing: Draft, pdf_of) -> None:
    said = words_of(pdf_of(choosing))

    assert "Choose one of these three." in said
    for option in choosing.result["variants"]:
        assert f"{option['variant']} {option['title']}" in said
        assert f"Whole quote with {option['variant']}, with tax" in said
        assert money_text(option["total_cents"], "USD") in said
        assert f"{money_text(option['share_cents'], 'USD')} before tax" in said


def test_it_says_which_one_the_total_counts_and_what_the_others_add(
    choosing: Draft, pdf_of
) -> None:
    said = words_of(pdf_of(choosing))
    _, fuller, slim = choosing.result["variants"]

    assert said.count("Counted in the total") == 1
    assert "The total counts A of Garland over the door." in said
    assert (
        f"With B it is {money_text(fuller['total_cents'], 'USD')}, "
        f"{money_text(fuller['more_cents'], 'USD')} more." in said
    )
    assert (
        f"With C it is {money_text(slim['total_cents'], 'USD')}, "
        f"{money_text(-slim['more_cents'], 'USD')} less." in said
    )
    assert "A: Garland over the door" in said[said.index("Price") :]


def test_how_to_accept_says_to_choose_and_what_happens_without(choosing: Draft, pdf_of) -> None:
    steps = words_of(pdf_of(choosing)).partition("How to accept")[2]

    assert "Choose A, B or C of Garland over the door." in steps
    assert "if you name nothing, you get what the total counts: A of Garland" in steps


def test_they_are_told_apart_by_what_differs_alone(choosing: Draft, pdf_of) -> None:
    said = words_of(pdf_of(choosing))

    assert said.count("Thickness:") == 3
    assert said.count("Overall:") == 3
    assert "Colours:" not in said
    assert "Pattern:" not in said


def test_each_has_its_own_picture_in_words(choosing: Draft, pdf_of) -> None:
    alts = [str(element.get("/Alt", "")) for element in structure_of(pdf_of(choosing))]

    for title in ("Garland over the door", "Fuller", "Slim"):
        assert sum(alt.startswith(f"Picture of {title}. ") for alt in alts) == 1


def test_with_two_choices_each_is_said_alone(choosing: Draft, large_quote, today, pdf_of) -> None:  # noqa: F811
    gate = PieceFactory(quote=large_quote, title="Gate", spec=arch_spec(width_m=3.0))
    beside(gate, title="Gate, slim", width=[[0, 0.3], [1, 0.3]])

    said = words_of(pdf_of(draft_of(large_quote, today=today)))

    assert "Choose A or B of Gate." in said
    assert "choose several and we tell you the sum" in said


def test_it_never_says_cost_hours_margin_or_a_count(choosing: Draft, pdf_of) -> None:
    said = words_of(pdf_of(choosing))

    for word in ("margin", "markup", "cost", "overhead", "labour", "hour", "stock", "profit"):
        assert not re.search(rf"\b{word}s?\b", said, re.IGNORECASE), word
    for option in choosing.result["variants"]:
        if "estimate" in option:
            body = option["estimate"]["count"]["body"]
            assert str(body) not in re.findall(r"(?<![\d.,$])\d+(?![\d.,])", said)
            cost = Decimal(option["estimate"]["price"]["cost"])
            assert money_text(int(cost * 100), "USD") not in said


def test_variants_that_look_alike_say_so(large_quote, today: date, pdf_of) -> None:  # noqa: F811
    piece = large_quote.pieces.get()
    other = beside(piece, title="Again", width=piece.spec["width"])
    other.spec = {**other.spec, "seed": 9}
    other.save()

    said = words_of(pdf_of(draft_of(large_quote, today=today)))

    assert "They differ only in how the balloons fall." in said
    assert "The same price" in said


# ---- What a client tells them apart by ----


@pytest.mark.parametrize(
    ("change", "label", "text"),
    [
        ({"path": {"kind": "ring", "diameter_m": 2.0}}, "Shape", "A ring, 2.00 m across"),
        ({"width": [[0, 0.4], [1, 0.4]]}, "Thickness", "0.40 m"),
        ({"backing": "flat"}, "Back", "Flat"),
        ({"base": [{"colour": "plum", "share": 1}]}, "Colours", "Plum"),
        ({"pattern": "banded"}, "Pattern", "In bands"),
        (
            {"sizes": [{"nominal_in": 11, "inflated_in": [9, 9], "share": 1}]},
            "Balloons",
            "11-inch",
        ),
        (
            {"singles": {"colours": ["oat"], "per_m": 2}},
            "Large singles",
            "Oat, one every 0.50 m",
        ),
        ({"fillers": {"colours": ["oat", "fern"]}}, "Small clusters", "Oat and fern"),
        ({"accents": [{"colour": "marigold", "share": 0.1}]}, "Accents", "Marigold"),
        ({"starbursts": [{"colour": "copper", "count": 2}]}, "Starbursts", "2 copper"),
    ],
)
def test_what_differs_is_said_in_the_clients_words(change: dict, label: str, text: str) -> None:
    facts = [
        client_facts(spec_from_dict(spec), catalogue=example_catalogue(), units="metric")
        for spec in (arch_spec(), {**arch_spec(), **change})
    ]

    ((before,), (after,)) = differing(facts)

    assert (before.label, after.label, after.text) == (label, label, text)
