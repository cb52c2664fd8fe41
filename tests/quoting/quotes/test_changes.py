"""What differs from the edition before, in words."""

from collections.abc import Callable
from datetime import UTC, date, datetime, time
from typing import Any

import pytest

from decor.models import Business
from quoting.models import Quote
from quoting.models.quote import QuoteStage
from quoting.quotes.changes import edition_changes, stage_now
from quoting.quotes.editions import Draft, draft_of
from quoting.quotes.extra_lines import extra_line_add, extra_line_edit, extra_line_remove
from quoting.quotes.service import quote_send, quote_use_current_rates
from tests.factories import PieceFactory, RateCardFactory, arch_spec


def changed(before: Draft, after: Draft) -> list[str]:
    """Without the line of the total, which the last test here is about."""
    return edition_changes(before.inputs, after.inputs, total_before=0, total_after=0)


def piece_spec(**changes: Any) -> Callable[[Quote], None]:
    def act(quote: Quote) -> None:
        piece = quote.pieces.first()
        piece.spec = {**piece.spec, **changes}
        piece.save()

    return act


def path(**data: Any) -> Callable[[Quote], None]:
    return piece_spec(path=data)


def on_quote(**values: Any) -> Callable[[Quote], None]:
    def act(quote: Quote) -> None:
        for name, value in values.items():
            setattr(quote, name, value)
        quote.save()

    return act


def on_job(**values: Any) -> Callable[[Quote], None]:
    def act(quote: Quote) -> None:
        for name, value in values.items():
            setattr(quote.job, name, value)
        quote.job.save()

    return act


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (path(kind="arch", width_m=2.4, height_m=2.4), "height 6 ft 11 in → 7 ft 10 in"),
        (path(kind="ring", diameter_m=2.0), "shape arch → ring"),
        (path(kind="swag", span_m=3.0, sag_m=0.6), "span none → 9 ft 10 in"),
        (piece_spec(width=[[0, 0.4], [1, 0.4]]), "thickness 1 ft 4 in at 0%, 2 ft 4 in at 50%, "),
        (
            piece_spec(base=[{"colour": "plum", "share": 1}]),
            "colours oat 60%, fern 40% → plum 100%",
        ),
        (piece_spec(pattern="banded"), "pattern of colours spread → banded"),
        (piece_spec(backing="flat"), "back free-standing → flat against a wall"),
        (piece_spec(cluster_of=4), "clusters of 8 → 4"),
        (
            piece_spec(starbursts=[{"colour": "copper", "count": 3}]),
            "starbursts none → 3 copper",
        ),
        (
            piece_spec(accents=[{"colour": "marigold", "share": 0.08}]),
            "accents none → marigold 8.0% at 6 to 9 in in bunches of 4",
        ),
        (piece_spec(singles={"colours": ["oat"]}), "large singles none → oat, 24-inch"),
        (piece_spec(fillers={"colours": ["oat"]}), "fillers none → oat, 5-inch"),
        (piece_spec(site={"outdoor": True, "height_m": 3.0}), "place indoors → outdoors"),
        (piece_spec(crew=2), "people 1 → 2"),
    ],
)
def test_a_changed_piece_says_which_and_how(
    quote: Quote, today: date, act: Callable[[Quote], None], words: str
) -> None:
    before = draft_of(quote, today=today)
    act(quote)

    said = changed(before, draft_of(quote, today=today))

    assert any(line.startswith(f"Garland over the door: {words}") for line in said), said


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (on_quote(message="Hello"), "Message changed"),
        (on_quote(terms="Pay up."), "Terms changed"),
        (on_quote(includes_strike=False), "Taking down yes → no"),
        (on_quote(is_outside_hours=True), "Outside usual hours no → yes"),
        (
            on_quote(expires_on=date(2026, 6, 18)),
            "Good until Friday 19 June 2026 → Thursday 18 June 2026",
        ),
        (
            on_quote(discount_kind="amount", discount_cents=1000, discount_reason="Ours"),
            "Discount none → Ours $10.00",
        ),
        (on_job(event_time=time(16, 30)), "Time 14:00 → 16:30"),
        (on_job(title="Reading week"), "Job Reading-week arch → Reading week"),
        (on_job(site=None), "Place Library porch → none"),
    ],
)
def test_a_changed_order_says_what(
    quote: Quote, today: date, act: Callable[[Quote], None], words: str
) -> None:
    before = draft_of(quote, today=today)
    act(quote)

    assert words in changed(before, draft_of(quote, today=today))


def test_pieces_added_taken_out_and_renamed_are_said(quote: Quote, today: date) -> None:
    PieceFactory(quote=quote, title="Window line")
    before = draft_of(quote, today=today)
    first, second = quote.pieces.all()
    first.delete()
    second.title = "Window garland"
    second.save()
    PieceFactory(quote=quote, title="Table line")

    assert changed(before, draft_of(quote, today=today)) == [
        "Taken out: Garland over the door",
        "Title: Window line → Window garland",
        "Added: Table line",
    ]


def test_pieces_in_another_order_are_said(quote: Quote, today: date) -> None:
    PieceFactory(quote=quote, title="Window line", position=9000)
    before = draft_of(quote, today=today)
    quote.pieces.filter(title="Window line").update(position=0)
    quote.pieces.exclude(title="Window line").update(position=1)

    assert changed(before, draft_of(quote, today=today)) == ["The order of the pieces changed"]


def test_extra_lines_added_changed_and_removed_are_said(quote: Quote, today: date) -> None:
    gone = extra_line_add(quote=quote, label="Backdrop", quantity=1, unit_cents=6500)
    kept = extra_line_add(quote=quote, label="Cards", quantity=10, unit_cents=125)
    before = draft_of(quote, today=today)
    extra_line_remove(line=gone)
    extra_line_edit(line=kept, label="Place cards", quantity=12, unit_cents=125)
    extra_line_add(quote=quote, label="Sign", quantity=2, unit_cents=1500)

    assert changed(before, draft_of(quote, today=today)) == [
        "Taken out: Backdrop",
        "Extra line: Cards → Place cards",
        "Place cards: 10 × $1.25 → 12 × $1.25",
        "Added: Sign, $30.00",
    ]


def test_another_rate_card_is_said(quote: Quote, today: date) -> None:
    before = draft_of(quote, today=today)
    RateCardFactory(version=2, starts_on=today)
    quote_use_current_rates(quote=quote, today=today)

    assert "Rate card 1 → 2" in changed(before, draft_of(quote, today=today))


def test_nothing_is_said_of_nothing(quote: Quote, today: date) -> None:
    draft = draft_of(quote, today=today)

    assert changed(draft, draft_of(quote, today=today)) == []


def test_the_total_comes_last(quote: Quote, today: date) -> None:
    before = draft_of(quote, today=today)
    piece_spec(path=arch_spec(width_m=4.8, height_m=3.0)["path"])(quote)
    after = draft_of(quote, today=today)

    said = edition_changes(before.inputs, after.inputs, total_before=24582, total_after=41267)

    assert said[-1] == "Total $245.82 → $412.67"


def test_a_quote_never_sent_is_a_draft_whatever_happens(quote: Quote) -> None:
    on_quote(message="Hello")(quote)

    assert stage_now(quote) == QuoteStage.DRAFT


def test_what_the_business_calls_itself_does_not_change_a_sent_quote(
    quote: Quote, today: date
) -> None:
    quote_send(quote=quote, by=None, now=datetime(2026, 6, 13, 15, tzinfo=UTC))
    Business.objects.update(phone="(207) 555-0199")

    assert stage_now(quote) == QuoteStage.SENT
