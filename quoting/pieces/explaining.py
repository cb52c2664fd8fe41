"""Figures of the panel opened: the estimator's explanations, in the business's words and units."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from decor.display import money_text
from decor.models.business import Currency
from quoting.estimator import Estimate
from quoting.estimator.balloons import BalloonLine
from quoting.estimator.explain import Explanation, Term, explanations, line_key
from quoting.estimator.explain.term import worked_out
from quoting.estimator.saying import Measure, Quantity, UnitSystem, say
from quoting.pieces.shelf import Shelf, shelf_of

ORDER: Final = "order"
PRESS: Final = "worked out in turn: press the number"
# Said in the business's own unit too, besides the metric number that is reckoned with.
_SAID_IN: Final = {
    "m": Measure.LENGTH,
    "m3": Measure.VOLUME,
    "N": Measure.FORCE,
    "m/s": Measure.SPEED,
    "km": Measure.DISTANCE,
}
_UNIT_WORDS: Final = {"m2": "m²", "m3": "m³", "each": "", "of 1": "", "m3/min": "m³ a minute"}


@dataclass(frozen=True, kw_only=True)
class TermRow:
    """`see` leads to the explanation of this number, where it has one of its own."""

    symbol: str
    what: str
    value: str
    provenance: str
    between: str
    see: str


@dataclass(frozen=True, kw_only=True)
class ExplainedFigure:
    key: str
    title: str
    value: str
    formula: str
    with_numbers: str
    rows: tuple[TermRow, ...]
    to_change: str


def explained(made: Estimate, keys: Iterable[str], *, units: str) -> tuple[ExplainedFigure, ...]:
    """Raises KeyError for a figure that this estimate has not."""
    known = explanations(made) | {ORDER: _order(made)}
    names = _Names(made)
    return tuple(_figure(known[key], known, names, units) for key in dict.fromkeys(keys))


def cell_keys(lines: Iterable[BalloonLine]) -> tuple[str, ...]:
    """Of one thing to order: what is needed for each use of it, and its spares."""
    return tuple(f"{part} {line_key(line)}" for line in lines for part in ("need", "spares"))


def _order(made: Estimate) -> Explanation:
    parts = tuple(
        worked_out(f"b{i}", line_key(line), line.total, "each", see=f"need {line_key(line)}")
        for i, line in enumerate(made.balloons, start=1)
    )
    return Explanation(
        key=ORDER,
        title="Balloons to order",
        formula=" + ".join(part.symbol for part in parts),
        parts=parts,
        value=sum(line.total for line in made.balloons),
        unit="each",
        to_change="Width tells most: a tenth wider holds about a fifth more balloons.",
    )


class _Names:
    """Keys of colours as they are called on the shelf."""

    def __init__(self, made: Estimate) -> None:
        shelf: Shelf = shelf_of(made.catalogue)
        self._names = {colour.key: colour.name.lower() for colour in (*shelf.latex, *shelf.foil)}

    def said(self, text: str) -> str:
        return " ".join(self._names.get(word, word) for word in text.split(" "))


def _figure(
    found: Explanation, known: dict[str, Explanation], names: _Names, units: str
) -> ExplainedFigure:
    return ExplainedFigure(
        key=found.key,
        title=names.said(found.title),
        value=_said(found.value, found.shown, found.unit, units),
        formula=found.formula,
        with_numbers=found.with_numbers,
        rows=tuple(_row(part, known, names, units) for part in found.parts),
        to_change=found.to_change,
    )


def _row(part: Term, known: dict[str, Explanation], names: _Names, units: str) -> TermRow:
    between = ""
    if part.low is not None and part.high is not None and part.low != part.high:
        between = f"good from {part.low:g} to {part.high:g}"
    see = part.see if part.see in known else ""
    return TermRow(
        symbol=part.symbol,
        what=names.said(part.what),
        value=_said(part.value, part.shown, part.unit, units),
        provenance=PRESS if see else _powers(part.provenance),
        between=between,
        see=see,
    )


def _said(value: float, shown: str, unit: str, units: str) -> str:
    """The metric number of the formula, with the business's own unit beside it."""
    if unit in Currency.values:
        return money_text(round(value * 100), unit)
    said = f"{shown} {_powers(_UNIT_WORDS.get(unit, unit))}".strip()
    if units == UnitSystem.IMPERIAL and unit in _SAID_IN:
        return f"{said} ({say(Quantity(value, _SAID_IN[unit]), units)})"
    return said


def _powers(text: str) -> str:
    return text.replace("^2", "²").replace("^3", "³")
