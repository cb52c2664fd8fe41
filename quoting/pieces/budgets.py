"""A piece fitted to what a client can pay: tried, taken over, put back."""

import secrets
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import ceil, floor
from typing import Any, Final

from django.db import transaction

from decor.display import METRES_PER_INCH, money_text
from decor.models.business import Units
from quoting.estimator import Price, SpecError
from quoting.estimator import constants as c
from quoting.estimator.budget import BudgetTooSmall, Fit, fit_budget
from quoting.estimator.comparing import Row
from quoting.estimator.spec import Drape, Spec
from quoting.models import Piece
from quoting.pieces import defaults as d
from quoting.pieces.form import Typed
from quoting.pieces.problem_words import sentence
from quoting.pieces.reading import Reading, Surroundings, read_piece
from quoting.pieces.service import Window, piece_type
from quoting.pieces.spec_building import build_spec
from quoting.quotes.pricing import order_around

WIDTH, LENGTH = "width", "length"
MEND_FIRST: Final = "Mend what is marked in the form first: then it can be fitted."
CANNOT: Final = "It cannot be made with this budget."
TOO_SMALL: Final = (
    "{budget} is not enough. Changing only its {by}, the smallest possible price is {smallest}{of}."
)
_OF_QUOTE: Final = " for the whole quote"
_SAID: Final = ("length", "widest", "narrowest", "balloons", "clusters", "person_hours")
_INCHES_PER_FOOT: Final = 12
# Finer than anyone can make it, so that next to nothing of the budget is left by rounding.
_PARTS_OF_INCH: Final = 100
_PARTS_OF_METRE: Final = 10_000


class NotFitted(ValueError):
    """The message says why, and what would be possible."""


@dataclass(frozen=True, kw_only=True)
class FittedPiece:
    """`typed` is what its fields become; `price` is the quote's with it."""

    typed: Typed
    fit: Fit
    changes: tuple[str, ...]
    price: Price
    total_before_cents: int
    is_alone: bool

    @property
    def left_cents(self) -> int:
        return self.fit.budget_cents - self.price.total_cents

    @property
    def is_same(self) -> bool:
        return not self.changes


def piece_fitted(
    *, piece: Piece, surroundings: Surroundings, budget_cents: int, by: str, today: date
) -> FittedPiece:
    """Tried only; nothing is written. Raises NotFitted."""
    reading = read_piece(piece.typed, surroundings)
    if reading.spec is None or reading.estimate is None:
        raise NotFitted(MEND_FIRST)
    order, others = order_around(piece, today=today)
    is_alone = not others and not order.extra_lines
    try:
        fit = fit_budget(
            reading.spec,
            budget_cents,
            by=by,
            catalogue=surroundings.catalogue,
            rates=order.rates,
            conditions=order.conditions,
            others=others,
            extra_lines=order.lines,
            discount=order.discount,
        )
    except BudgetTooSmall as small:
        raise NotFitted(_too_small(small, budget_cents, by, surroundings, is_alone)) from None
    except SpecError as error:
        raise NotFitted(" ".join(sentence(p.message) for p in error.problems)) from None
    typed = typed_as(fit.spec, reading, surroundings, by=by, typed=piece.typed)
    made = read_piece(typed, surroundings).estimate
    if made is None:
        raise NotFitted(CANNOT)
    fit = replace(fit, spec=made.spec, made=made, price=order.price([*others, made]))
    return FittedPiece(
        typed=typed,
        fit=fit,
        changes=tuple(_said(fit.changes, surroundings)),
        price=fit.price,
        total_before_cents=order.price([*others, reading.estimate]).total_cents,
        is_alone=is_alone,
    )


@transaction.atomic
def piece_fit(
    *, piece: Piece, surroundings: Surroundings, budget_cents: int, by: str, today: date
) -> FittedPiece:
    """Takes it over into what is typed, and remembers what stood there. Raises NotFitted."""
    fitted = piece_fitted(
        piece=piece, surroundings=surroundings, budget_cents=budget_cents, by=by, today=today
    )
    _retype(piece, fitted.typed, surroundings)
    return fitted


def can_put_back(piece: Piece) -> bool:
    """As long as the fitted fields are as the fit left them, whatever else was typed."""
    fitted = piece.fitted
    return bool(fitted) and all(piece.typed.get(k) == v for k, v in fitted["after"].items())


@transaction.atomic
def piece_put_back(*, piece: Piece, surroundings: Surroundings) -> None:
    """The fields of before the fit; doing it again brings the fitted ones back."""
    if not can_put_back(piece):
        return
    _retype(piece, {**piece.typed, **piece.fitted["before"]}, surroundings)


def _retype(piece: Piece, typed: Mapping[str, Any], surroundings: Surroundings) -> None:
    before = piece.typed
    typed = {name: value for name, value in typed.items() if value is not None}
    changed = [k for k in {**before, **typed} if before.get(k) != typed.get(k)]
    window = Window(token=secrets.token_hex(8), seen_count=piece.typed_count)
    result = piece_type(piece=piece, typed=typed, surroundings=surroundings, window=window)
    result.piece.fitted = {
        "before": {name: before.get(name) for name in changed},
        "after": {name: typed.get(name) for name in changed},
    }
    result.piece.save(update_fields=["fitted"])


def typed_as(
    spec: Spec, reading: Reading, surroundings: Surroundings, *, by: str, typed: Typed
) -> Typed:
    """What to type for this spec, which differs from the one read in widths or in lengths only."""
    built = build_spec(reading.form.cleaned_data, reading.around)
    units = surroundings.units
    if by == WIDTH:
        widths = {
            built.fields[f"width[{i}]"]: length_typed(station.width_m, units)
            for i, station in enumerate(spec.width)
        }
        return {**typed, **widths, **_singles_kept(reading)}
    if isinstance(spec.path, Drape):
        return {**typed, d.POINTS_FIELD: points_typed(spec.path.points_m, units)}
    kind = d.PATH_KINDS[reading.form.shape.kind]
    lengths = {
        dimension.field: length_typed(getattr(spec.path, dimension.spec_key), units)
        for dimension in kind.dimensions
    }
    return {**typed, **lengths}


def _singles_kept(reading: Reading) -> dict[str, str]:
    """The usual number of large singles depends on the width: it stays as it was."""
    values = reading.form.cleaned_data
    if values.get("singles") or reading.spec is None:
        return {}
    width = [(station.at, station.width_m) for station in reading.spec.width]
    return {"singles": d.usual_singles(reading.form.fullness_key, width)}


def length_typed(metres: float, units: str, *, least_m: float = c.WIDTH_M[0]) -> str:
    """Rounded down, so that the price does not rise; up where it would fall below what may be."""
    if units == Units.METRIC:
        return f"{_down(metres, _PARTS_OF_METRE, least_m):g} m"
    inches = _down(metres / METRES_PER_INCH, _PARTS_OF_INCH, least_m / METRES_PER_INCH)
    feet, inches = divmod(inches, _INCHES_PER_FOOT)
    said = [f"{feet:.0f} ft"] if feet else []
    said += [f"{round(inches, 2):g} in"] if round(inches, 2) or not feet else []
    return " ".join(said)


def points_typed(points_m: Iterable[Sequence[float]], units: str) -> str:
    """A line a point, as the form reads them: across, up, and towards us where it is not flat."""

    def line(point: Sequence[float]) -> str:
        across, away, up = point
        parts = (across, up, -away) if away else (across, up)
        return ", ".join(_signed(part, units) for part in parts)

    return "\n".join(line(point) for point in points_m)


def _signed(metres: float, units: str) -> str:
    return f"{'-' if metres < 0 else ''}{length_typed(abs(metres), units, least_m=0)}"


def _down(value: float, parts: int, least: float) -> float:
    down = floor(value * parts + 1e-6) / parts
    return down if down >= least else ceil(value * parts) / parts


def _said(rows: tuple[Row, ...], surroundings: Surroundings) -> Iterator[str]:
    for row in rows:
        if row.key in _SAID:
            said = row.said(1, units=surroundings.units)
            yield said[:1].upper() + said[1:]


def _too_small(
    small: BudgetTooSmall, budget_cents: int, by: str, around: Surroundings, is_alone: bool
) -> str:
    currency = around.rates.currency
    return TOO_SMALL.format(
        budget=money_text(budget_cents, currency),
        by=by,
        smallest=money_text(small.smallest_cents, currency),
        of="" if is_alone else _OF_QUOTE,
    )
