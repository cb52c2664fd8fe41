"""What goes into which packing bag.

Bag 1 is opened first at the place. Bags are filled in the reverse order of hanging: the last bag
first, and in each what hangs last at the bottom, so that what hangs first lies on top. Clusters
hang before what is put on them, and each piece has bags of its own.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from quoting.estimator import Estimate, Rates
from quoting.estimator.air import air_volume, packed_volume
from quoting.estimator.packing import INFLATED_AT_SITE
from quoting.estimator.stringing import StringItem
from quoting.making.pieces import PieceToMake

CLUSTER = "cluster"
# What a string calls a thing, and the use of the balloons that it is made of.
USES: Mapping[str, str] = {
    CLUSTER: "base",
    "mini": "filler",
    "accent": "accent",
    "starburst": "starburst",
}
WHATS: Mapping[str, tuple[str, str]] = {
    CLUSTER: ("cluster", "clusters"),
    "mini": ("mini-cluster", "mini-clusters"),
    "accent": ("accent bunch", "accent bunches"),
    "starburst": ("starburst", "starbursts"),
}


@dataclass(frozen=True, kw_only=True)
class Load:
    """One packing bag. `things` are in the order of hanging; metres are along the path."""

    number: int
    piece: PieceToMake
    things: tuple[StringItem, ...]
    packed_m3: float

    @property
    def from_m(self) -> float:
        return self.things[0].at * self.piece.estimate.path_length_m

    @property
    def to_m(self) -> float:
        return self.things[-1].at * self.piece.estimate.path_length_m

    @property
    def clusters(self) -> int:
        return sum(thing.what == CLUSTER for thing in self.things)

    @property
    def counts(self) -> Counter[tuple[str, str]]:
        """By what and colour, in the order of hanging."""
        return Counter((thing.what, thing.colour) for thing in self.things)

    @property
    def filling(self) -> list[tuple[int, str, str]]:
        """Runs of the same, bottom to top: how many, what, colour."""
        runs = groupby(reversed(self.things), key=lambda thing: (thing.what, thing.colour))
        return [(len(list(run)), what, colour) for (what, colour), run in runs]


def loads_of(pieces: Sequence[PieceToMake], rates: Rates) -> tuple[Load, ...]:
    loads: list[Load] = []
    for piece in pieces:
        string = [item for item in piece.estimate.string if item.what != INFLATED_AT_SITE]
        first = [item for item in string if item.what == CLUSTER]
        added = [item for item in string if item.what != CLUSTER]
        for things in (first, added):
            for filled, packed_m3 in _filled(piece.estimate, things, rates.packing_bag_m3):
                number = len(loads) + 1
                loads.append(
                    Load(number=number, piece=piece, things=tuple(filled), packed_m3=packed_m3)
                )
    return tuple(loads)


def _filled(
    made: Estimate, things: Sequence[StringItem], bag_m3: float
) -> Iterator[tuple[list[StringItem], float]]:
    """As few bags as the order allows, and no fuller than need be: an even share for each."""
    sizes = [_packed_m3(made, thing) for thing in things]
    capacity = _evenly(sizes, bag_m3)
    filled: list[StringItem] = []
    room = 0.0
    for thing, size in zip(things, sizes, strict=True):
        if filled and room + size > capacity + _FUZZ:
            yield filled, room
            filled, room = [], 0.0
        filled.append(thing)
        room += size
    if filled:
        yield filled, room


_FUZZ = 1e-9
_TRIES = 40


def _evenly(sizes: Sequence[float], bag_m3: float) -> float:
    """The smallest capacity that takes no more bags than full ones would."""
    if not sizes:
        return bag_m3
    most = _bags(sizes, bag_m3)
    low, high = max(sizes), max(bag_m3, max(sizes))
    for _ in range(_TRIES):
        middle = (low + high) / 2
        low, high = (low, middle) if _bags(sizes, middle) <= most else (middle, high)
    return high


def _bags(sizes: Sequence[float], capacity: float) -> int:
    bags, room = 1, 0.0
    for size in sizes:
        if room and room + size > capacity + _FUZZ:
            bags, room = bags + 1, 0.0
        room += size
    return bags


def _packed_m3(made: Estimate, thing: StringItem) -> float:
    use = USES[thing.what]
    lines = [each for each in made.make.needed if (each.use, each.colour) == (use, thing.colour)]
    return packed_volume(air_volume(lines)) / _how_many(made, thing)


def _how_many(made: Estimate, thing: StringItem) -> int:
    by_what = {
        CLUSTER: made.make.clusters,
        "mini": made.make.mini_lines,
        "accent": made.make.bunch_lines,
        "starburst": made.make.burst_lines,
    }
    return sum(line.count for line in by_what[thing.what] if line.colour == thing.colour)
