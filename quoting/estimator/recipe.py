"""What is made: pairs, clusters, bunches, minis, starbursts and singles, in whole numbers."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from . import constants as c
from .catalogue import Kind
from .filling import Body, whole_up
from .sharing import webster
from .spec import Spec

# Pairs of these are always named, even at none: the usual base garland knows no others.
_USUAL_PAIRS = ("11-11", "11-17", "17-17")


@dataclass(frozen=True, kw_only=True)
class ClusterLine:
    """Clusters of one base colour, and the pairs that all of them together are tied from."""

    colour: str
    count: int
    pairs: Mapping[str, int]


@dataclass(frozen=True, kw_only=True)
class BunchLine:
    """Things made or hung as one: accent bunches, minis, starbursts or singles of a colour."""

    colour: str
    count: int
    size: int


@dataclass(frozen=True, kw_only=True)
class Needed:
    """Balloons of one kind for one use, before spares."""

    colour: str
    kind: Kind
    nominal_in: float | None
    inflated_in: tuple[float, float] | None
    use: str
    count: int


@dataclass(frozen=True, kw_only=True)
class Recipe:
    cluster_of: int
    clusters: tuple[ClusterLine, ...]
    bunch_lines: tuple[BunchLine, ...]
    mini_lines: tuple[BunchLine, ...]
    burst_lines: tuple[BunchLine, ...]
    single_lines: tuple[BunchLine, ...]
    needed: tuple[Needed, ...]

    @property
    def pairs(self) -> Mapping[str, int]:
        totals = Counter(dict.fromkeys(_USUAL_PAIRS, 0))
        for line in self.clusters:
            totals.update(line.pairs)
        return dict(totals)

    @property
    def cluster_count(self) -> int:
        return sum(line.count for line in self.clusters)

    @property
    def accent_bunches(self) -> int:
        return sum(line.count for line in self.bunch_lines)

    @property
    def minis(self) -> int:
        return sum(line.count for line in self.mini_lines)

    @property
    def starbursts(self) -> int:
        return sum(line.count for line in self.burst_lines)

    @property
    def singles(self) -> int:
        return sum(line.count for line in self.single_lines)


def make_recipe(spec: Spec, body: Body, *, length_m: float, face_m2: float) -> Recipe:
    base = _base_counts(spec, body.base)
    bunches = tuple(
        BunchLine(colour=accent.colour, count=whole_up(count / accent.bunch), size=accent.bunch)
        for accent, count in zip(spec.accents, body.accents, strict=True)
    )
    minis = _minis(spec, face_m2)
    bursts = tuple(
        BunchLine(colour=s.colour, count=s.count, size=int(c.STARBURST_POINTS.value))
        for s in spec.starbursts
    )
    large = _large(spec, length_m)
    return Recipe(
        cluster_of=spec.cluster_of,
        clusters=tuple(_cluster_line(spec, colour, counts) for colour, counts in base),
        bunch_lines=bunches,
        mini_lines=minis,
        burst_lines=bursts,
        single_lines=large,
        needed=(
            *_needed_base(spec, base),
            *_needed_latex(spec, minis, "filler"),
            *_needed_latex(spec, large, "single"),
            *_needed_accents(spec, bunches),
            *_needed_points(bursts),
        ),
    )


def _base_counts(spec: Spec, body: float) -> list[tuple[str, tuple[int, ...]]]:
    """Balloons of each size by colour: whole clusters to colours, then sizes within each."""
    clusters = whole_up(body / spec.cluster_of)
    by_colour = webster(clusters, [base.share for base in spec.base])
    sizes = [size.share for size in spec.sizes]
    return [
        (base.colour, webster(count * spec.cluster_of, sizes))
        for base, count in zip(spec.base, by_colour, strict=True)
    ]


def _cluster_line(spec: Spec, colour: str, counts: Sequence[int]) -> ClusterLine:
    names = [f"{size.nominal_in:g}" for size in spec.sizes]
    return ClusterLine(
        colour=colour,
        count=sum(counts) // spec.cluster_of,
        pairs=pair_up(dict(zip(names, counts, strict=True))),
    )


def pair_up(counts: Mapping[str, int]) -> dict[str, int]:
    """Pairs tied from an even number of balloons, as near chance meetings as parity allows.

    Balloons of the first size that meet others by chance number n (N - n) / N; an even
    rest is tied to itself. The others go on among themselves.
    """
    left = {size: count for size, count in counts.items() if count}
    pairs: dict[str, int] = {}
    while left:
        first, count = next(iter(left.items()))
        del left[first]
        mixed = _mixed_pairs(count, sum(left.values()))
        if count - mixed:
            pairs[pair_name(first, first)] = (count - mixed) // 2
        if not left:
            break
        met = webster(mixed, list(left.values()))
        for other, meetings in zip(tuple(left), met, strict=True):
            if meetings:
                pairs[pair_name(first, other)] = meetings
            left[other] -= meetings
        left = {size: rest for size, rest in left.items() if rest}
    return pairs


def pair_name(first: str, second: str) -> str:
    return "-".join(sorted((first, second), key=float))


def _mixed_pairs(count: int, others: int) -> int:
    """As many as chance would make, of the parity that leaves nothing over."""
    if not others:
        return 0
    mixed = round(count * others / (count + others))
    if (mixed - count) % 2:
        mixed += -1 if mixed else 1
    return mixed


def _minis(spec: Spec, face_m2: float) -> tuple[BunchLine, ...]:
    if spec.fillers is None:
        return ()
    count = whole_up(spec.fillers.minis_per_m2 * face_m2)
    return _even_lines(spec.fillers.colours, count, int(c.MINI_SIZE.value))


def _large(spec: Spec, length_m: float) -> tuple[BunchLine, ...]:
    if spec.singles is None:
        return ()
    return _even_lines(spec.singles.colours, whole_up(spec.singles.per_m * length_m), 1)


def _even_lines(colours: Sequence[str], count: int, size: int) -> tuple[BunchLine, ...]:
    counts = webster(count, [1] * len(colours))
    pairs = zip(colours, counts, strict=True)
    return tuple(BunchLine(colour=colour, count=n, size=size) for colour, n in pairs)


def _needed_base(spec: Spec, base: Sequence[tuple[str, tuple[int, ...]]]) -> Iterator[Needed]:
    for colour, counts in base:
        for size, count in zip(spec.sizes, counts, strict=True):
            yield Needed(
                colour=colour,
                kind="latex",
                nominal_in=size.nominal_in,
                inflated_in=size.inflated_in,
                use="base",
                count=count,
            )


def _needed_latex(spec: Spec, lines: Sequence[BunchLine], use: str) -> Iterator[Needed]:
    source = spec.fillers if use == "filler" else spec.singles
    for line in lines:
        if source:
            yield Needed(
                colour=line.colour,
                kind="latex",
                nominal_in=source.nominal_in,
                inflated_in=source.inflated_in,
                use=use,
                count=line.count * line.size,
            )


def _needed_accents(spec: Spec, bunches: Sequence[BunchLine]) -> Iterator[Needed]:
    for accent, line in zip(spec.accents, bunches, strict=True):
        yield Needed(
            colour=accent.colour,
            kind="latex",
            nominal_in=c.ACCENT_NOMINAL_IN,
            inflated_in=accent.inflated_in,
            use="accent",
            count=line.count * line.size,
        )


def _needed_points(bursts: Sequence[BunchLine]) -> Iterator[Needed]:
    for line in bursts:
        yield Needed(
            colour=line.colour,
            kind="foil",
            nominal_in=None,
            inflated_in=None,
            use="starburst",
            count=line.count * line.size,
        )
