"""Kit that a job has or wants and that is out then, in words."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date

from decor.display import date_text
from decor.models import Job
from inventory.kit.service import KitFree, kit_free, kit_holders, kit_holds_open
from inventory.models import KitHold
from inventory.models.kit import KitKind
from quoting.estimator import Spec
from quoting.estimator.hours import needs_ladder

OUT = "{kit}: {free} of {count} can be had {days}, and this job needs {wanted}.{who}"
WHO = " It is with {jobs}."
OTHER_DAY = "{kit} is kept {days}, but the job is on {day}."
NO_LADDER = "It needs a ladder, and every one of them is out {days}.{who}"


def kit_notes(job: Job, specs: Iterable[Spec]) -> tuple[str, ...]:
    """Nothing where all that it has is there, and a ladder too where it needs one."""
    holds = list(kit_holds_open(job))
    by_days: dict[tuple[date, date], list[KitHold]] = defaultdict(list)
    for hold in holds:
        by_days[hold.from_on, hold.until_on].append(hold)
    notes = [note for days, together in by_days.items() for note in _held(days, together, job)]
    has_ladder = any(hold.kit.kind == KitKind.LADDER for hold in holds)
    if job.event_on and not has_ladder and any(needs_ladder(spec) for spec in specs):
        notes += _of_ladders(job, job.event_on)
    return tuple(notes)


def _held(span: tuple[date, date], holds: Sequence[KitHold], job: Job) -> Iterable[str]:
    days = {"from_on": span[0], "until_on": span[1]}
    free = kit_free(**days, but_for=job, kits=[hold.kit for hold in holds])
    for hold, found in zip(holds, free, strict=True):
        if job.event_on and not hold.from_on <= job.event_on <= hold.until_on:
            day = date_text(job.event_on)
            yield OTHER_DAY.format(kit=hold.kit, days=_days(**days), day=day)
        if found.free < hold.quantity:
            yield OUT.format(
                kit=hold.kit,
                free=max(0, found.free),
                count=hold.kit.count,
                wanted=hold.quantity,
                days=_days(**days),
                who=_who([found], job, **days),
            )


def _of_ladders(job: Job, on: date) -> Iterable[str]:
    days = {"from_on": on, "until_on": on}
    ladders = [
        found
        for found in kit_free(**days, but_for=job)
        if found.kit.kind == KitKind.LADDER and found.kit.count
    ]
    if ladders and all(found.free < 1 for found in ladders):
        yield NO_LADDER.format(days=_days(**days), who=_who(ladders, job, **days))


def _who(out: Iterable[KitFree], job: Job, *, from_on: date, until_on: date) -> str:
    kits = [found.kit for found in out]
    jobs = kit_holders(kits=kits, from_on=from_on, until_on=until_on, but_for=job)
    titles = dict.fromkeys(f"“{other.title}”" for other in jobs)
    return WHO.format(jobs=", ".join(titles)) if titles else ""


def _days(from_on: date, until_on: date) -> str:
    if from_on == until_on:
        return f"on {date_text(from_on)}"
    return f"from {date_text(from_on)} to {date_text(until_on)}"
