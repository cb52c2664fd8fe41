"""What there is to make of a job, in the order of the work and one colour at a time.

Nothing of it is from the shelf, and nothing is counted yet: that is making/sheet.py.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from decor.models import Job
from quoting.estimator import Estimate, Rates
from quoting.estimator.balloons import BalloonLine
from quoting.estimator.hours import inflate_seconds
from quoting.estimator.recipe import BunchLine, ClusterLine, Needed
from quoting.making.keys import POINTS, ItemKey, StepKey, Work
from quoting.making.packing import Load, loads_of
from quoting.making.pieces import PieceToMake, pieces_to_make

PHASE_INFLATE, PHASE_TWIST, PHASE_MINIS, PHASE_BURSTS, PHASE_PACK = (
    "inflate and tie",
    "twist clusters",
    "mini-clusters",
    "starbursts",
    "pack",
)
# Those of the bench; the rest of the phases are of the road and the place.
BENCH_PHASES = (PHASE_INFLATE, PHASE_TWIST, PHASE_MINIS, PHASE_BURSTS, PHASE_PACK)
MINI_OF = "A mini-cluster is three quads of {nominal}-inch: {size} balloons, tied at the middle."
BURST_OF = (
    f"{POINTS} points each: six pairs, tied with slack between the two points, twisted at the "
    "middle. Hand pump only: the warm air of an electric pump softens the valve, and it leaks."
)
SINGLES_OF = "Count them out and pack them flat: they are inflated at the place."


@dataclass(frozen=True, kw_only=True)
class Step:
    """`target` is what is needed; `spare` comes on top of it. `seconds` are of each one."""

    key: StepKey
    piece: PieceToMake | None
    target: int
    phase: str
    seconds: float
    spare: int = 0
    inflated_in: tuple[float, float] | None = None
    of: int = 1

    @property
    def name(self) -> str:
        return str(self.key)


@dataclass(frozen=True, kw_only=True)
class Section:
    """What is done before the next colour is begun. `how` are instructions, in their order.
    `colour` is empty where it is of any colour."""

    anchor: str
    group: Work
    colour: str
    steps: tuple[Step, ...]
    how: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Plan:
    sections: tuple[Section, ...] = ()
    loads: tuple[Load, ...] = ()
    pieces: tuple[PieceToMake, ...] = ()
    source: str = ""
    rates: Rates
    problems: tuple[str, ...] = ()

    @property
    def packing(self) -> tuple[Step, ...]:
        """The last bag first: see making/packing.py."""
        each = self.rates.unit_times.pack_cluster_s
        return tuple(
            Step(
                key=StepKey(Work.PACK, size=load.number),
                piece=load.piece,
                target=1,
                phase=PHASE_PACK,
                seconds=each * load.clusters,
            )
            for load in reversed(self.loads)
        )

    @property
    def steps(self) -> tuple[Step, ...]:
        made = (step for section in self.sections for step in section.steps)
        return (*made, *self.packing)

    @property
    def needed(self) -> dict[ItemKey, int]:
        return self._balloons(with_spares=False)

    @property
    def balloons(self) -> dict[ItemKey, int]:
        """Of each item, spares in."""
        return self._balloons(with_spares=True)

    def _balloons(self, *, with_spares: bool) -> dict[ItemKey, int]:
        found: dict[ItemKey, int] = defaultdict(int)
        for step in self.steps:
            if step.key.item:
                found[step.key.item] += step.target * step.key.balloons
                found[step.key.item] += step.spare if with_spares else 0
        return dict(found)

    def is_made(self, counts: Mapping[str, int]) -> bool:
        if not self.steps or self.problems:
            return False
        return all(counts.get(step.name, 0) >= step.target for step in self.steps)


def plan_for(job: Job) -> Plan:
    found = pieces_to_make(job)
    if not found.pieces:
        return Plan(rates=found.rates, source=found.source, problems=found.problems)
    return Plan(
        sections=tuple(_sections(found.pieces, found.rates)),
        loads=loads_of(found.pieces, found.rates),
        pieces=found.pieces,
        source=found.source,
        rates=found.rates,
        problems=found.problems,
    )


def _sections(pieces: Sequence[PieceToMake], rates: Rates) -> Iterator[Section]:
    """Base and fillers by colour, the most first; then accents, starbursts and singles apart."""
    by_colour: dict[tuple[Work, str], list[Step]] = defaultdict(list)
    how: dict[tuple[Work, str], list[str]] = defaultdict(list)
    for piece in pieces:
        for group, step in _piece_steps(piece, rates):
            by_colour[group, _together(group, step)].append(step)
        for line in piece.estimate.make.clusters:
            if line.count:
                how[Work.BASE, line.colour].append(_pairs_words(piece, line, len(pieces) > 1))
    for (group, colour), steps in sorted(by_colour.items(), key=_turn):
        steps = [step for step in steps if step.target]
        if steps:
            yield Section(
                anchor=f"{group}-{colour}" if colour else str(group),
                group=group,
                colour=colour,
                steps=tuple(sorted(steps, key=lambda step: _ORDER.index(step.key.work))),
                how=(*how[group, colour], *_how(group, steps)),
            )


def _together(group: Work, step: Step) -> str:
    """Large singles are only counted out: all colours at once."""
    return "" if group is Work.SINGLE else step.key.colour


_ORDER = (
    Work.BASE,
    Work.CLUSTER,
    Work.FILLER,
    Work.MINI,
    Work.ACCENT,
    Work.BUNCH,
    Work.STARBURST,
    Work.SINGLE,
)
_GROUPS = (Work.BASE, Work.ACCENT, Work.STARBURST, Work.SINGLE)


def _turn(each: tuple[tuple[Work, str], list[Step]]) -> tuple[int, int, str]:
    (group, colour), steps = each
    most = sum(step.target for step in steps if step.key.work is Work.BASE)
    return _GROUPS.index(group), -most, colour


def _how(group: Work, steps: Sequence[Step]) -> Iterator[str]:
    minis = next((step for step in steps if step.key.work is Work.MINI), None)
    fillers = next((step for step in steps if step.key.work is Work.FILLER), None)
    if minis and fillers:
        yield MINI_OF.format(nominal=fillers.key.size, size=minis.of)
    if group is Work.STARBURST:
        yield BURST_OF
    if group is Work.SINGLE:
        yield SINGLES_OF


def _pairs_words(piece: PieceToMake, line: ClusterLine, is_one_of_several: bool) -> str:
    """Such as `32 pairs: 18 of 11-11, 12 of 11-17, 2 of 17-17.`"""
    pairs = sum(line.pairs.values())
    kinds = ", ".join(f"{count} of {name}" for name, count in line.pairs.items() if count)
    tie = f"{piece.title}: tie" if is_one_of_several else "Tie"
    size = piece.estimate.make.cluster_of
    return f"{tie} {pairs} pairs: {kinds}. {size // 2} pairs twisted together are a cluster."


def _piece_steps(piece: PieceToMake, rates: Rates) -> Iterator[tuple[Work, Step]]:
    made = piece.estimate
    for line in made.balloons:
        if line.kind == "latex":
            work = Work(line.use)
            group = Work.BASE if work is Work.FILLER else work
            yield group, _inflate_step(piece, line, work, rates)
    times = rates.unit_times
    twist = times.twist_four_s if made.make.cluster_of == 4 else times.twist_eight_s
    for line in made.make.clusters:
        key = StepKey(Work.CLUSTER, piece.pk, line.colour)
        size = made.make.cluster_of
        yield Work.BASE, _made_step(piece, key, line.count, size, PHASE_TWIST, twist)
    yield from _bunched(piece, made.make.mini_lines, Work.MINI, PHASE_MINIS, times.mini_s)
    yield from _bunched(piece, made.make.bunch_lines, Work.BUNCH, PHASE_INFLATE, 0)
    for line in made.make.burst_lines:
        key = StepKey(Work.STARBURST, piece.pk, line.colour)
        spare = _point_spares(made, line.colour)
        yield (
            Work.STARBURST,
            _made_step(
                piece, key, line.count, line.size, PHASE_BURSTS, times.starburst_s, spare=spare
            ),
        )


def _bunched(
    piece: PieceToMake, lines: Sequence[BunchLine], work: Work, phase: str, seconds: float
) -> Iterator[tuple[Work, Step]]:
    group = Work.BASE if work is Work.MINI else Work.ACCENT
    for line in lines:
        key = StepKey(work, piece.pk, line.colour)
        yield group, _made_step(piece, key, line.count, line.size, phase, seconds)


def _inflate_step(piece: PieceToMake, line: BalloonLine, work: Work, rates: Rates) -> Step:
    needed = Needed(
        colour=line.colour,
        kind=line.kind,
        nominal_in=line.nominal_in,
        inflated_in=line.inflated_in,
        use=line.use,
        count=line.need,
    )
    at_site = work is Work.SINGLE
    return Step(
        key=StepKey(work, piece.pk, line.colour, round(line.nominal_in)),
        piece=piece,
        target=line.need,
        spare=line.spare,
        inflated_in=line.inflated_in,
        phase=PHASE_PACK if at_site else PHASE_INFLATE,
        seconds=0 if at_site else inflate_seconds(needed, rates.unit_times),
    )


def _made_step(
    piece: PieceToMake,
    key: StepKey,
    count: int,
    of: int,
    phase: str,
    seconds: float,
    *,
    spare: int = 0,
) -> Step:
    return Step(
        key=key, piece=piece, target=count, of=of, phase=phase, seconds=seconds, spare=spare
    )


def _point_spares(made: Estimate, colour: str) -> int:
    lines = (each for each in made.balloons if each.kind == "foil" and each.colour == colour)
    return sum(line.spare for line in lines)
