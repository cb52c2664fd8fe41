"""The counted balloons, each with its own diameter, on the knots that the stringing order says."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from random import Random

from .. import constants as c
from ..catalogue import Kind
from ..estimating import Estimate
from ..recipe import ClusterLine, Needed
from ..stringing import StringItem, spread_out
from .sizes import FOIL_POINT_WIDTH_M


@dataclass(frozen=True, kw_only=True)
class Balloon:
    """Not yet placed; a foil point has no nominal size, and its diameter is its widest."""

    colour: str
    kind: Kind
    nominal_in: float | None
    use: str
    diameter_m: float


@dataclass(frozen=True)
class Knot:
    """What is tied together at one place of the path."""

    item: StringItem
    balloons: tuple[Balloon, ...]


def strung(estimate: Estimate, rng: Random) -> tuple[Knot, ...]:
    """Every balloon of the bill less spares, once, in stringing order."""
    stock = _Stock(estimate.make.needed, rng)
    pairs = {line.colour: _pair_order(line, rng) for line in estimate.make.clusters}
    bunch = {line.colour: line.size for line in estimate.make.bunch_lines}
    knots = []
    for item in estimate.string:
        match item.what:
            case "cluster":
                each = (next(pairs[item.colour]) for _ in range(estimate.make.cluster_of // 2))
                names = [name for pair in each for name in pair.split("-")]
                taken = [stock.take(item.colour, "base", name) for name in names]
            case "accent":
                taken = [stock.take(item.colour, "accent") for _ in range(bunch[item.colour])]
            case "mini":
                taken = [stock.take(item.colour, "filler") for _ in range(int(c.MINI_SIZE.value))]
            case "starburst":
                points = int(c.STARBURST_POINTS.value)
                taken = [stock.take(item.colour, "starburst") for _ in range(points)]
            case _:
                taken = [stock.take(item.colour, item.what)]
        knots.append(Knot(item, tuple(taken)))
    return tuple(knots)


def stratified(inflated_in: tuple[float, float], count: int) -> list[float]:
    """Diameters in m, one from each equal part of the range, that keep E[d^3] exactly.

    Each is the cube root of its part's mean cube, (p + q)(p^2 + q^2) / 4 for [p, q].
    """
    low, high = (inches * c.METRES_PER_INCH for inches in inflated_in)
    ends = [low + (high - low) * i / count for i in range(count + 1)]
    return [((p + q) * (p * p + q * q) / 4) ** (1 / 3) for p, q in pairwise(ends)]


def _pair_order(line: ClusterLine, rng: Random) -> Iterator[str]:
    return iter(spread_out(line.pairs, rng))


class _Stock:
    """Balloons not yet tied, by colour, use and size, in an order that the seed shuffles."""

    def __init__(self, needed: Sequence[Needed], rng: Random) -> None:
        self._left: dict[tuple[str, str], dict[str, list[Balloon]]] = defaultdict(dict)
        for line in needed:
            size = "" if line.nominal_in is None else f"{line.nominal_in:g}"
            self._left[line.colour, line.use][size] = _shuffled(line, rng)

    def take(self, colour: str, use: str, size: str | None = None) -> Balloon:
        """Only base balloons come in several sizes of one colour and use."""
        sizes = self._left[colour, use]
        return sizes[next(iter(sizes)) if size is None else size].pop()


def _shuffled(line: Needed, rng: Random) -> list[Balloon]:
    if line.inflated_in is None:
        diameters = [FOIL_POINT_WIDTH_M.value] * line.count
    else:
        diameters = stratified(line.inflated_in, line.count) if line.count else []
    rng.shuffle(diameters)
    return [
        Balloon(
            colour=line.colour,
            kind=line.kind,
            nominal_in=line.nominal_in,
            use=line.use,
            diameter_m=diameter,
        )
        for diameter in diameters
    ]
