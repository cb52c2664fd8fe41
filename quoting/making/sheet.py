"""The making sheet of a job: what there is to make, from which bags, and how far it is."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from uuid import UUID, uuid4

from decor.business.service import the_business
from decor.models import Job
from decor.models.business import Units
from quoting.making.bags import ItemBags, bags_for
from quoting.making.keys import ItemKey, step_key
from quoting.making.pace import Pace, pace_of
from quoting.making.packing import Load
from quoting.making.plan import BENCH_PHASES, Plan, Section, Step, plan_for
from quoting.making.popping import popped_words
from quoting.making.ticks import counts_of
from quoting.making.words import (
    Swatch,
    filling_words,
    load_words,
    section_title,
    step_doing,
    step_title,
    swatches_of,
    where_words,
)
from quoting.making.working import person_minutes
from quoting.models import WorkTime


@dataclass(frozen=True, kw_only=True)
class ShownStep:
    """`count` is never below none. `bags` are of its item, for all steps that use it."""

    job: Job
    step: Step
    count: int
    title: str
    doing: str
    piece: str = ""
    bags: ItemBags | None = None
    popped: int = 0

    @property
    def is_done(self) -> bool:
        return self.count >= self.step.target

    @property
    def left(self) -> int:
        return max(0, self.step.target - self.count)


@dataclass(frozen=True, kw_only=True)
class ShownSection:
    section: Section
    title: str
    swatch: Swatch | None
    steps: tuple[ShownStep, ...]

    @property
    def is_done(self) -> bool:
        return all(step.is_done for step in self.steps)


@dataclass(frozen=True, kw_only=True)
class ShownLoad:
    """A packing bag; `filling` is what goes in, bottom to top."""

    load: Load
    step: ShownStep
    what: list[str]
    where: str
    filling: str

    @property
    def key(self) -> UUID:
        """For a page without scripts: pressing twice on one page counts once."""
        return uuid4()


@dataclass(frozen=True, kw_only=True)
class ShownClock:
    phase: str
    running: WorkTime | None
    person_minutes: int
    to_type: tuple[WorkTime, ...]

    @property
    def person_hours(self) -> float:
        return self.person_minutes / 60

    @property
    def new_key(self) -> UUID:
        return uuid4()


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """Never a price. `plan` is what it is made from."""

    job: Job
    plan: Plan
    sections: tuple[ShownSection, ...] = ()
    loads: tuple[ShownLoad, ...] = ()
    clocks: tuple[ShownClock, ...] = ()
    popped: tuple[str, ...] = ()
    pace: Pace
    counts: Mapping[str, int] = field(default_factory=dict)
    wanted: Mapping[ItemKey, int] = field(default_factory=dict)

    @property
    def steps(self) -> list[ShownStep]:
        made = [step for section in self.sections for step in section.steps]
        return made + [load.step for load in self.loads]

    @property
    def is_made(self) -> bool:
        return self.plan.is_made(self.counts)

    @property
    def steps_done(self) -> int:
        return sum(step.is_done for step in self.steps)


def making_sheet(job: Job, *, now: datetime) -> Sheet:
    """A dozen questions, however large it is."""
    plan, counts = plan_for(job), counts_of(job)
    popped = list(job.popped.select_related("bag", "replaced_from"))
    lost = Counter(each.step for each in popped)
    wanted = _wanted(plan, lost)
    bags = bags_for([job], wanted)
    swatches, several = swatches_of([plan]), len(plan.pieces) > 1
    times = list(job.work_times.all())

    def shown(step: Step) -> ShownStep:
        return ShownStep(
            job=job,
            step=step,
            count=max(0, counts.get(step.name, 0)),
            title=step_title(step, swatches),
            doing=step_doing(step),
            piece=step.piece.title if several and step.piece else "",
            bags=bags.get(step.key.item) if step.key.item else None,
            popped=lost[step.name],
        )

    return Sheet(
        job=job,
        plan=plan,
        sections=tuple(
            ShownSection(
                section=section,
                title=section_title(section, swatches.get(section.colour)),
                swatch=swatches.get(section.colour),
                steps=tuple(shown(step) for step in section.steps),
            )
            for section in plan.sections
        ),
        loads=_loads(plan, [shown(step) for step in plan.packing], swatches, several),
        clocks=_clocks(times, now),
        popped=tuple(popped_words(each) for each in popped),
        pace=pace_of(
            plan,
            counts,
            times=times,
            ticked_at=list(job.ticks.values_list("made_at", flat=True)),
            now=now,
        ),
        counts=counts,
        wanted=wanted,
    )


def _wanted(plan: Plan, lost: Mapping[str, int]) -> dict[ItemKey, int]:
    """Spares are for those that were lost; beyond them a balloon more is needed for each."""
    gone: Counter[ItemKey] = Counter()
    for name, count in lost.items():
        key = step_key(name)
        if key and key.item:
            gone[key.item] += count
    needed = plan.needed
    return {key: max(total - gone[key], needed[key]) for key, total in plan.balloons.items()}


def _loads(
    plan: Plan, steps: list[ShownStep], swatches: Mapping[str, Swatch], several: bool
) -> tuple[ShownLoad, ...]:
    business = the_business()
    units = business.units if business else Units.IMPERIAL
    return tuple(
        ShownLoad(
            load=load,
            step=step,
            what=load_words(load, swatches),
            where=where_words(load, units, is_one_of_several=several),
            filling=filling_words(load, swatches),
        )
        for load, step in zip(reversed(plan.loads), steps, strict=True)
    )


def _clocks(times: list[WorkTime], now: datetime) -> tuple[ShownClock, ...]:
    return tuple(
        clock_shown(phase, [t for t in times if t.phase == phase], now) for phase in BENCH_PHASES
    )


def clock_shown(phase: str, times: list[WorkTime], now: datetime) -> ShownClock:
    return ShownClock(
        phase=phase,
        running=next((each for each in times if each.stopped_at is None), None),
        person_minutes=person_minutes(times, now=now),
        to_type=tuple(each for each in times if each.stopped_at and each.minutes is None),
    )
