"""What no single field can see: shares that must add up, widths in order, ranges the right way."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from decor.display import percent_text
from quoting.estimator import constants as c
from quoting.pieces.defaults import ACCENT_INFLATED_IN, STATION_ROWS, usual_inflation

if TYPE_CHECKING:
    from quoting.pieces.form import PieceForm

WHOLE_BP = 10_000
_SLACK_BP = round(c.SHARE_SLACK * WHOLE_BP)

HALF_A_ROW = "Give both: how far along, and how wide there."
GIVEN_TWICE = "There are two widths for this place: keep one."
SMALLEST_FIRST = "The smallest must not be above the largest."


@dataclass(frozen=True)
class FieldProblem:
    """`field` None: about the piece as a whole."""

    field: str | None
    message: str


def problems(form: "PieceForm") -> Iterator[FieldProblem]:
    values = form.cleaned_data
    yield from _base_shares(form, values)
    yield from _size_shares(form, values)
    yield from _inflations(form, values)
    yield from _stations(form, values)
    yield from _order(form, values)


def _base_shares(form: "PieceForm", values: dict[str, Any]) -> Iterator[FieldProblem]:
    names = [f"share_{key}" for key in values.get("base", ())]
    if not names or any(name in form.errors for name in names):
        return
    given = [values[name] for name in names if values[name] is not None]
    left = WHOLE_BP - sum(given)
    if len(given) < len(names) and left <= _SLACK_BP:
        others = "the colour" if len(names) - len(given) == 1 else "the colours"
        message = (
            f"The shares given make {percent_text(sum(given))}, so nothing is left for {others} "
            "without one: they must come to less than 100 %."
        )
        yield FieldProblem("base", message)
    elif len(given) == len(names) and abs(left) > _SLACK_BP:
        yield FieldProblem("base", f"{_sum_words(given)} {_mend_words(left)}")


def _sum_words(given: list[int]) -> str:
    return f"The shares must add up to 100 %, and they make {percent_text(sum(given))}."


def _mend_words(left: int) -> str:
    if left > 0:
        return f"Give away the other {percent_text(left)}, or leave one empty to take the rest."
    return f"Take away {percent_text(-left)}, or leave one empty to take the rest."


def _size_shares(form: "PieceForm", values: dict[str, Any]) -> Iterator[FieldProblem]:
    names = [f"size_share_{nominal:g}" for nominal in form.shelf.nominals]
    given = [share for name in names if (share := values.get(name)) is not None]
    if any(name in form.errors for name in names) or not given:
        return
    left = WHOLE_BP - sum(given)
    if abs(left) > _SLACK_BP:
        first = next(name for name in names if values.get(name) is not None)
        word = "give" if left > 0 else "take away"
        yield FieldProblem(first, f"{_sum_words(given)} Please {word} {percent_text(abs(left))}.")


def _inflations(form: "PieceForm", values: dict[str, Any]) -> Iterator[FieldProblem]:
    usual = {f"{n:g}": usual_inflation(n) for n in form.shelf.nominals}
    pairs = [(f"size_low_{size}", f"size_high_{size}", ends) for size, ends in usual.items()]
    for low, high, (smallest, largest) in [
        *pairs,
        ("accent_low", "accent_high", ACCENT_INFLATED_IN),
    ]:
        if low in form.errors or high in form.errors:
            continue
        given = values.get(low), values.get(high)
        if given == (None, None):
            continue
        if (given[0] or smallest) > (given[1] or largest):
            yield FieldProblem(low if given[0] else high, SMALLEST_FIRST)


def _stations(form: "PieceForm", values: dict[str, Any]) -> Iterator[FieldProblem]:
    seen: set[int] = set()
    for row in range(STATION_ROWS):
        at_name, width_name = f"station_{row}_at", f"station_{row}_width"
        if at_name in form.errors or width_name in form.errors:
            continue
        at, width = values.get(at_name), values.get(width_name)
        if (at is None) != (width is None):
            yield FieldProblem(at_name if at is None else width_name, HALF_A_ROW)
        elif at in seen:
            yield FieldProblem(at_name, GIVEN_TWICE)
        elif at is not None:
            seen.add(at)


def _order(form: "PieceForm", values: dict[str, Any]) -> Iterator[FieldProblem]:
    chosen = {form.shelf.name_of(key).casefold() for key in values.get("base", ())}
    for name in order_names(values.get("colour_order", "")):
        if chosen and name.casefold() not in chosen:
            yield FieldProblem("colour_order", f"{name} is not among the colours chosen above.")
            return


def order_names(text: str) -> list[str]:
    return [name for part in text.split(",") if (name := part.strip())]
