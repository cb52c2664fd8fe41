"""The estimate as the owner's panel shows it: rows, circles and bars, ready to draw."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate
from math import sqrt

from quoting.estimator import PHASES, Catalogue, Estimate, PriceLine
from quoting.estimator.balloons import BalloonLine
from quoting.estimator.cautions import Severity
from quoting.estimator.explain import price_keys
from quoting.pieces.explaining import cell_keys
from quoting.pieces.facts import FactRow
from quoting.pieces.packing_words import packing_rows, packing_short
from quoting.pieces.shelf import Shelf, shelf_of
from quoting.pieces.words import said

BAR_WIDTH = 400.0
BAR_GAP = 1.5
# A 24-inch circle fills its square of 48; areas go as areas, down to what still holds a number.
CIRCLE_MOST, CIRCLE_LEAST = 23.0, 12.0
_LARGEST_IN = 24.0
_DARK_INK, _LIGHT_INK = "#000000", "#ffffff"

COST_WORDS = {
    "materials": "Balloons",
    "sundries": "Bands, ribbon, bags",
    "kit": "Kit wear",
    "labour": "Work",
    "travel": "Travel",
    "overhead": "Overhead",
}
USE_WORDS = {
    "base": "base",
    "filler": "fillers",
    "single": "singles",
    "accent": "accents",
    "starburst": "starburst points",
}
SEVERITY_WORDS = {Severity.STOP: "Stop", Severity.CARE: "Take care", Severity.NOTE: "Note"}
DRIVERS_SHOWN = 3


@dataclass(frozen=True, kw_only=True)
class BalloonCell:
    """One thing to order. `low` to `high` is the honest range of `need`; `total` is firm."""

    hex: str
    ink: str
    radius: float
    uses: str
    need: int
    low: int
    high: int
    total: int
    explain: tuple[str, ...]

    @property
    def is_ranged(self) -> bool:
        return self.low != self.high


@dataclass(frozen=True)
class BalloonRow:
    """A colour; a cell for every size of the table, None where there is nothing."""

    name: str
    cells: tuple[BalloonCell | None, ...]


@dataclass(frozen=True)
class BalloonTable:
    sizes: tuple[str, ...]
    rows: tuple[BalloonRow, ...]


@dataclass(frozen=True, kw_only=True)
class PhasePart:
    """`order` is the phase's own, whichever others there are; `x` and `width` are of the bar."""

    label: str
    hours: float
    order: int
    x: float
    width: float

    @property
    def explain(self) -> str:
        return f"hours {self.label}"


@dataclass(frozen=True, kw_only=True)
class Driver:
    """`percent` of the cost, whole; `width` of the bar."""

    label: str
    cents: int
    percent: int
    width: float


@dataclass(frozen=True)
class CostRow:
    label: str
    cents: int


@dataclass(frozen=True)
class MoneyRow:
    """A line of the price. `explain` is the key of its explanation."""

    label: str
    cents: int
    why: str
    explain: str


@dataclass(frozen=True)
class CautionRow:
    word: str
    text: str
    is_grave: bool


@dataclass(frozen=True, kw_only=True)
class Panel:
    made: Estimate
    balloons: BalloonTable
    order_total: int
    need: int
    low: int
    high: int
    recipe: tuple[str, ...]
    hours: tuple[PhasePart, ...]
    costs: tuple[CostRow, ...]
    cost_lines: tuple[MoneyRow, ...]
    steps: tuple[MoneyRow, ...]
    drivers: tuple[Driver, ...]
    cautions: tuple[CautionRow, ...]
    packing: tuple[FactRow, ...]
    packing_short: str


def panel_of(made: Estimate, catalogue: Catalogue, *, units: str) -> Panel:
    price = made.price
    keys = dict(zip(map(id, price.lines), price_keys(price), strict=True))

    def money_rows(lines: Iterable[PriceLine]) -> tuple[MoneyRow, ...]:
        return tuple(
            MoneyRow(line.label, line.amount_cents, line.said(units), keys[id(line)])
            for line in lines
        )

    return Panel(
        made=made,
        balloons=_balloon_table(made, catalogue),
        order_total=sum(line.total for line in made.balloons),
        need=sum(line.need for line in made.balloons),
        low=sum(line.low for line in made.balloons),
        high=sum(line.high for line in made.balloons),
        recipe=tuple(_recipe(made, catalogue)),
        hours=_hours(made),
        costs=tuple(_costs(made)),
        cost_lines=money_rows(price.cost_lines),
        steps=money_rows(price.step_lines),
        drivers=_drivers(made),
        cautions=tuple(
            CautionRow(SEVERITY_WORDS[c.severity], c.said(units), c.severity is Severity.STOP)
            for c in made.cautions
        ),
        packing=tuple(packing_rows(made, units=units)),
        packing_short=packing_short(made),
    )


def _balloon_table(made: Estimate, catalogue: Catalogue) -> BalloonTable:
    """Colours down, sizes across; base and accents of one item come from one bag and one cell."""
    shelf = shelf_of(catalogue)
    items: dict[tuple[str, float | None], list[BalloonLine]] = {}
    for line in made.balloons:
        items.setdefault((line.colour, line.nominal_in), []).append(line)
    sizes = sorted({size for _, size in items}, key=lambda size: (size is None, size))
    colours = dict.fromkeys(colour for colour, _ in items)
    return BalloonTable(
        sizes=tuple("points" if size is None else f"{size:g} in" for size in sizes),
        rows=tuple(_balloon_row(shelf, colour, sizes, items) for colour in colours),
    )


def _balloon_row(
    shelf: Shelf,
    key: str,
    sizes: Sequence[float | None],
    items: Mapping[tuple[str, float | None], list[BalloonLine]],
) -> BalloonRow:
    colour = shelf.latex_colour(key) or shelf.foil_colour(key)
    hex_value = colour.hex if colour else _LIGHT_INK
    cells = tuple(
        _balloon_cell(items[key, size], size, hex_value) if (key, size) in items else None
        for size in sizes
    )
    return BalloonRow(colour.name if colour else key, cells)


def _balloon_cell(lines: list[BalloonLine], size: float | None, hex_value: str) -> BalloonCell:
    return BalloonCell(
        hex=hex_value,
        ink=readable_ink(hex_value),
        radius=_radius(size),
        uses=said(list(dict.fromkeys(USE_WORDS[line.use] for line in lines))),
        need=sum(line.need for line in lines),
        low=sum(line.low for line in lines),
        high=sum(line.high for line in lines),
        total=sum(line.total for line in lines),
        explain=cell_keys(lines),
    )


def _radius(nominal: float | None) -> float:
    part = sqrt((nominal or _LARGEST_IN / 3) / _LARGEST_IN)
    return round(max(CIRCLE_LEAST, min(CIRCLE_MOST, CIRCLE_MOST * part)), 1)


def readable_ink(hex_value: str) -> str:
    """Black or white, whichever stands out more (WCAG 2.2 relative luminance)."""
    linear = [_linear(int(hex_value[i : i + 2], 16) / 255) for i in (1, 3, 5)]
    luminance = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    on_black, on_white = (luminance + 0.05) / 0.05, 1.05 / (luminance + 0.05)
    return _DARK_INK if on_black >= on_white else _LIGHT_INK


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


def _recipe(made: Estimate, catalogue: Catalogue) -> Iterator[str]:
    shelf, make = shelf_of(catalogue), made.make
    each = said([f"{line.count} {shelf.name_of(line.colour).lower()}" for line in make.clusters])
    yield f"{_counted(make.cluster_count, 'cluster')} of {make.cluster_of}: {each}"
    pairs = said([f"{count} of {name}" for name, count in make.pairs.items() if count])
    yield f"{_counted(sum(make.pairs.values()), 'pair')} for them: {pairs}"
    for lines, word in (
        (make.mini_lines, "mini-cluster"),
        (make.bunch_lines, "accent bunch"),
        (make.single_lines, "large single"),
    ):
        for line in lines:
            if line.count:
                of = f" of {line.size}" if line.size > 1 else ""
                name = shelf.name_of(line.colour).lower()
                yield f"{_counted(line.count, word)}{of} in {name}"
    for line in make.burst_lines:
        colour = shelf.foil_colour(line.colour)
        name = (colour.name if colour else line.colour).lower()
        yield f"{_counted(line.count, 'starburst')} of {line.size} points in {name}, by hand pump"


def _counted(count: int, word: str) -> str:
    ending = "es" if word.endswith("ch") else "s"
    return f"{count} {word}" if count == 1 else f"{count} {word}{ending}"


def _hours(made: Estimate) -> tuple[PhasePart, ...]:
    hours: dict[str, float] = {}
    for line in made.labour:
        hours[line.phase] = hours.get(line.phase, 0.0) + line.person_hours
    scale = BAR_WIDTH / (sum(hours.values()) or 1.0)
    starts = accumulate(hours.values(), initial=0.0)
    return tuple(
        PhasePart(
            label=phase,
            hours=number,
            order=PHASES.index(phase),
            x=round(start * scale, 1),
            width=round(max(number * scale - BAR_GAP, 0.5), 1),
        )
        for (phase, number), start in zip(hours.items(), starts, strict=False)
    )


def _costs(made: Estimate) -> Iterator[CostRow]:
    totals: dict[str, int] = {}
    for line in made.price.cost_lines:
        totals[line.kind] = totals.get(line.kind, 0) + line.amount_cents
    for kind, cents in totals.items():
        yield CostRow(COST_WORDS[kind], cents)


def _drivers(made: Estimate) -> tuple[Driver, ...]:
    """The dearest lines of the cost, each as a part of all of it."""
    whole = made.price.cost_cents or 1
    return tuple(
        Driver(
            label=line.label,
            cents=line.amount_cents,
            percent=round(100 * line.amount_cents / whole),
            width=round(BAR_WIDTH * line.amount_cents / whole, 1),
        )
        for line in made.drivers[:DRIVERS_SHOWN]
    )
