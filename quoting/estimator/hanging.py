"""Where along its path everything of a piece hangs, in metres from where the path begins."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from . import constants as c
from .estimating import Estimate
from .paths import is_closed


@dataclass(frozen=True, kw_only=True)
class Run:
    """Clusters of one colour that follow each other; `first` and `last` count them from 1."""

    first: int
    last: int
    colour: str
    from_m: float
    to_m: float

    @property
    def count(self) -> int:
        return self.last - self.first + 1


@dataclass(frozen=True, kw_only=True)
class Added:
    """Something put on once the clusters hang. `side` is as seen walking along the path."""

    what: str
    colour: str
    at_m: float
    side: str | None


@dataclass(frozen=True, kw_only=True)
class Anchors:
    """`at_m` are along the path, both ends of an open one among them; `low` are tied besides, from
    other directions, to keep the bottom from twisting. `tie_m` is the length of one tie."""

    at_m: tuple[float, ...]
    low: int
    spacing_m: float
    tie_m: float

    @property
    def count(self) -> int:
        return len(self.at_m) + self.low


@dataclass(frozen=True, kw_only=True)
class Hanging:
    runs: tuple[Run, ...]
    added: tuple[Added, ...]
    anchors: Anchors

    def of(self, what: str) -> tuple[Added, ...]:
        return tuple(each for each in self.added if each.what == what)


def hanging_of(made: Estimate) -> Hanging:
    length = made.path_length_m
    clusters = [item for item in made.string if item.what == "cluster"]
    return Hanging(
        runs=tuple(_runs([(item.colour, item.at * length) for item in clusters])),
        added=tuple(
            Added(what=item.what, colour=item.colour, at_m=item.at * length, side=item.side)
            for item in made.string
            if item.what != "cluster"
        ),
        anchors=_anchors(made),
    )


def _runs(clusters: Sequence[tuple[str, float]]) -> Iterator[Run]:
    first = 0
    for at, (colour, _) in enumerate(clusters):
        is_last = at + 1 == len(clusters) or clusters[at + 1][0] != colour
        if is_last:
            yield Run(
                first=first + 1,
                last=at + 1,
                colour=colour,
                from_m=clusters[first][1],
                to_m=clusters[at][1],
            )
            first = at + 1


def _anchors(made: Estimate) -> Anchors:
    """The ties that were counted: evenly along the path, the low ones outdoors apart."""
    low = int(c.EXTRA_LOW_TIES_OUTDOORS.value) if made.spec.site.outdoor else 0
    along = made.wind.anchors - low
    gaps = along if is_closed(made.spec.path) else along - 1
    spacing = made.path_length_m / gaps
    return Anchors(
        at_m=tuple(at * spacing for at in range(along)),
        low=low,
        spacing_m=spacing,
        tie_m=c.TIE_M.value,
    )
