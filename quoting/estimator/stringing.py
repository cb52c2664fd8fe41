"""The stringing order: what goes where along the path, the same for a spec and a seed."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from math import sqrt
from random import Random
from typing import Final

from .recipe import BunchLine, Recipe
from .spec import Pattern, Spec
from .widths import places

SIDES: Final = ("left", "right")
# How far a seed may shift a colour's turn, in clusters: enough to reorder near ties only.
_SEED_SHIFT: Final = 0.2


@dataclass(frozen=True)
class StringItem:
    """`at` is a fraction of the path; `side` is as seen walking along it, or None."""

    at: float
    what: str
    colour: str
    side: str | None = None


def string_order(spec: Spec, recipe: Recipe) -> tuple[StringItem, ...]:
    """Clusters as dense as W^2, minis as W; accents and singles evenly; sorted along the path."""
    rng = Random(spec.seed)
    clusters = {line.colour: line.count for line in recipe.clusters}
    colours = _ORDERS[spec.pattern](clusters, rng)
    items = chain(
        _place("cluster", colours, places(len(colours), spec.width, power=2)),
        _accents(spec, recipe, rng),
        _bunches(spec, "mini", recipe.mini_lines, rng, power=1),
        _starbursts(recipe, rng),
        _bunches(spec, "single", recipe.single_lines, rng, power=0),
    )
    return tuple(sorted(items, key=lambda item: item.at))


def spread_out(counts: Mapping[str, int], rng: Random) -> list[str]:
    """Error diffusion: each turn goes to the colour furthest behind its share.

    A colour that would otherwise be left with a longer run than any order needs is
    taken first, and none goes beyond that run.
    """
    left = {name: count for name, count in counts.items() if count}
    total = sum(left.values())
    share = {name: count / total for name, count in left.items()}
    behind = {name: rng.uniform(0, _SEED_SHIFT) for name in left}
    longest_run = _shortest_possible_run(left.values())
    order: list[str] = []
    run = 0
    for remaining in range(total, 0, -1):
        for name in behind:
            behind[name] += share[name]
        chosen = _next_colour(left, behind, order, run, longest_run, remaining)
        run = run + 1 if order and order[-1] == chosen else 1
        order.append(chosen)
        behind[chosen] -= 1
        left[chosen] -= 1
    return order


def _shortest_possible_run(counts: Collection[int]) -> int:
    """With the others as separators, the commonest colour falls into (others + 1) runs."""
    most = max(counts, default=0)
    return max(1, -(-most // (sum(counts) - most + 1)))


def _next_colour(
    left: Mapping[str, int],
    behind: Mapping[str, float],
    order: Sequence[str],
    run: int,
    longest_run: int,
    remaining: int,
) -> str:
    fullest = max(left, key=left.__getitem__)
    if left[fullest] > (remaining - left[fullest]) * longest_run:
        return fullest
    last = order[-1] if order and run >= longest_run else None
    able = [name for name, count in left.items() if count and name != last]
    return max(able, key=behind.__getitem__)


def banded(counts: Mapping[str, int], rng: Random) -> list[str]:
    return [name for name, count in counts.items() for _ in range(count)]


def blended(counts: Mapping[str, int], rng: Random) -> list[str]:
    """From the first colour to the last: each is densest at its own turn along the path.

    Densities fall in straight lines to nothing at the neighbours' turns; every cluster
    stands at a quantile of its colour's density.
    """
    names = [name for name, count in counts.items() if count]
    turns = max(1, len(names) - 1)
    spots = [
        (_blend_quantile(i, turns, (m + 0.5) / counts[name]), i, name)
        for i, name in enumerate(names)
        for m in range(counts[name])
    ]
    return [name for _, _, name in sorted(spots)]


def _blend_quantile(turn: int, turns: int, q: float) -> float:
    """Quantile of a triangle about `turn`, cut off at either end of 0 to `turns`."""
    rises, falls = turn > 0, turn < turns
    if rises and falls:
        offset = sqrt(2 * q) - 1 if q < 0.5 else 1 - sqrt(2 * (1 - q))
    elif rises:
        offset = sqrt(q) - 1
    else:
        offset = 1 - sqrt(1 - q)
    return turn + offset


_ORDERS: Final[Mapping[Pattern, Callable[[Mapping[str, int], Random], list[str]]]] = {
    Pattern.SPREAD: spread_out,
    Pattern.BANDED: banded,
    Pattern.BLEND: blended,
}


def _place(what: str, colours: Sequence[str], spots: Sequence[float]) -> Iterator[StringItem]:
    for at, colour in zip(spots, colours, strict=True):
        yield StringItem(at, what, colour)


def _mixed(lines: Sequence[BunchLine], rng: Random) -> list[str]:
    return spread_out({line.colour: line.count for line in lines}, rng)


def _bunches(
    spec: Spec, what: str, lines: Sequence[BunchLine], rng: Random, *, power: int
) -> Iterator[StringItem]:
    colours = _mixed(lines, rng)
    yield from _place(what, colours, places(len(colours), spec.width, power=power))


def _accents(spec: Spec, recipe: Recipe, rng: Random) -> Iterator[StringItem]:
    """A zigzag: evenly spaced, sides alternating, so that the eye travels the whole piece."""
    colours = _mixed(recipe.bunch_lines, rng)
    first = rng.randrange(len(SIDES))
    spots = places(len(colours), spec.width, power=0)
    for i, (at, colour) in enumerate(zip(spots, colours, strict=True)):
        yield StringItem(at, "accent", colour, SIDES[(first + i) % len(SIDES)])


def _starbursts(recipe: Recipe, rng: Random) -> Iterator[StringItem]:
    """Between the ends, where accents of the same number do not stand."""
    colours = _mixed(recipe.burst_lines, rng)
    spots = [(i + 1) / (len(colours) + 1) for i in range(len(colours))]
    return _place("starburst", colours, spots)
