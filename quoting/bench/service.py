"""The plan of the bench: there is one, made anew whenever hours or jobs change."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from decor.calendar.sessions import session_call_off, session_plan
from decor.models import Business, Job
from quoting.bench.asked import Asked, Work, bench_asked
from quoting.bench.words import changes_text, short_text
from quoting.estimator.planning import JobChange, MakingPlan, plan_changes, plan_making


@dataclass(frozen=True, kw_only=True)
class Planned:
    """`changes` are of the plan before; `short` says what finds no place."""

    asked: Asked
    plan: MakingPlan
    changes: tuple[JobChange, ...]
    short: tuple[str, ...]

    @property
    def moved(self) -> tuple[str, ...]:
        return tuple(self._texts(self.changes))

    def moved_of_others(self, job: Job) -> tuple[str, ...]:
        return tuple(self._texts(each for each in self.changes if each.job != str(job.pk)))

    def _texts(self, changes: Iterable[JobChange]) -> Iterator[str]:
        for change in changes:
            if change.has_moved:
                yield changes_text(self.asked.by_name[change.job].title, change)


def bench_look(*, now: datetime, promising: Work | None = None) -> Planned:
    """What a plan would be. Writes nothing."""
    asked = bench_asked(now=now, promising=promising)
    plan = plan_making(asked.jobs, bench=asked.bench, fixed=asked.fixed, before=asked.before)
    return Planned(
        asked=asked,
        plan=plan,
        changes=plan_changes([*asked.before, *asked.fixed], plan),
        short=tuple(short_text(asked, each) for each in plan.short),
    )


@transaction.atomic
def bench_plan(*, now: datetime) -> Planned:
    """Planned and written. Asked again it changes nothing."""
    _one_at_a_time()
    planned = bench_look(now=now)
    bench_write(planned, now=now)
    return planned


@transaction.atomic
def bench_write(planned: Planned, *, now: datetime) -> None:
    wanted = {(s.job, s.on): s.minutes for s in planned.plan.sessions if not s.is_fixed}
    for row in planned.asked.rows:
        if (str(row.job_id), row.on) not in wanted:
            session_call_off(session=row, now=now)
    for (name, on), minutes in wanted.items():
        session_plan(job=planned.asked.by_name[name], on=on, minutes=minutes, now=now)


def minutes_lost(*, promising: Work, planned: Planned) -> int:
    """Minutes that find no place because of this job, its own and those it pushes out."""
    others = tuple(job for job in planned.asked.jobs if job.job != str(promising.job.pk))
    without = plan_making(
        others,
        bench=planned.asked.bench,
        fixed=[s for s in planned.asked.fixed if s.job != str(promising.job.pk)],
    )
    return max(0, planned.plan.short_minutes - without.short_minutes)


def _one_at_a_time() -> None:
    """Of two who plan, the second sees what the first planned."""
    Business.objects.select_for_update(no_key=True).filter(pk=Business.THE_ONE).first()
