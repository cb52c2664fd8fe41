"""What there is to make and the hours there are for it, as the planner asks for them."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from math import ceil

from django.utils import timezone

from decor.business.service import the_business
from decor.calendar.capacity import DayHours, hours_by_day
from decor.calendar.moments import day_bounds, local_day
from decor.calendar.sessions import WHOLE_DAY
from decor.crew.service import crew_at_work
from decor.models import Job, MakingSession, Visit
from decor.models.job import Stage
from decor.models.visit import VisitKind
from quoting.estimator import Spec
from quoting.estimator import constants as c
from quoting.estimator.planning import STEP_MINUTES, Bench, JobToMake, Session, oldest_days
from quoting.estimator.weather import expected_life
from quoting.making.plan import Plan, plan_for
from quoting.making.ticks import counts_of

DAY = timedelta(days=1)
SECONDS_PER_MINUTE = 60


@dataclass(frozen=True, kw_only=True)
class Work:
    """What an edition that is about to be promised asks of the bench."""

    job: Job
    minutes: int
    specs: tuple[Spec, ...]


@dataclass(frozen=True, kw_only=True)
class Asked:
    """`rows` are the sessions that a new plan may move, `fixed` those it may not. Jobs are named
    by their number."""

    jobs: tuple[JobToMake, ...]
    by_name: dict[str, Job]
    bench: Bench
    rows: tuple[MakingSession, ...]
    fixed: tuple[Session, ...]

    @property
    def before(self) -> tuple[Session, ...]:
        return tuple(_session(row) for row in self.rows)


def bench_asked(*, now: datetime, promising: Work | None = None) -> Asked:
    """Of all that is promised and not made; of a job whose pieces are not described nobody knows
    the hours, so its sessions stay as they are."""
    today = local_day(now)
    works = [work for work in _works(promising) if work.minutes]
    days = _install_days(work.job for work in works)
    jobs = tuple(
        _to_make(work, days[work.job.pk], today)
        for work in works
        if work.job.pk in days and days[work.job.pk] >= today
    )
    by_name = {str(work.job.pk): work.job for work in works}
    asked = [job.job for job in jobs]
    rows = MakingSession.objects.filter(job__in=asked, called_off_at=None, on__gte=today)
    sessions = list(rows.filter(done_at=None).select_related("job"))
    last = max((job.install_on for job in jobs), default=today)
    return Asked(
        jobs=jobs,
        by_name={name: by_name[name] for name in asked},
        bench=_bench(sessions, today=today, last=last, now=now),
        rows=tuple(row for row in sessions if not row.is_fixed),
        fixed=tuple(_session(row) for row in sessions if row.is_fixed),
    )


def days_kept(specs: Iterable[Spec]) -> int:
    """Whole days that balloons may wait in the workshop. Out of sun and wind they last as long as
    any do at its warmth; what then hangs in the heat is made a day later (common practice, no
    source)."""
    return min((_days_kept(spec) for spec in specs), default=oldest_days(c.LIFE_MILD_H.high))


def _days_kept(spec: Spec) -> int:
    days = oldest_days(expected_life(spec.site.made_at_c).high)
    hangs_hot = spec.site.hung_at_c >= c.HOT_C.value
    return max(0, days - 1) if hangs_hot else days


def _works(promising: Work | None) -> Iterator[Work]:
    jobs = Job.objects.filter(stage=Stage.PROMISED, archived_at=None, event_on__isnull=False)
    if promising:
        yield promising
        jobs = jobs.exclude(pk=promising.job.pk)
    for job in jobs.order_by("event_on", "event_time", "pk"):
        plan = plan_for(job)
        if not plan.problems:
            specs = tuple(piece.estimate.spec for piece in plan.pieces)
            yield Work(job=job, minutes=_minutes_left(job, plan), specs=specs)


def _minutes_left(job: Job, plan: Plan) -> int:
    """Of one person, by the rate card, less what is counted. To what a float can tell apart."""
    counts = counts_of(job)
    left = sum(
        step.seconds * max(0, step.target - max(0, counts.get(step.name, 0))) for step in plan.steps
    )
    return ceil(round(left / SECONDS_PER_MINUTE, 6))


def _install_days(jobs: Iterable[Job]) -> dict[int, date]:
    """Of the install that is planned, else of the event."""
    days = {job.pk: job.event_on for job in jobs if job.event_on}
    installs = Visit.objects.filter(job__in=days, kind=VisitKind.INSTALL, called_off_at=None)
    days |= {pk: local_day(starts) for pk, starts in installs.values_list("job", "starts_at")}
    return days


def _to_make(work: Work, install_on: date, today: date) -> JobToMake:
    return JobToMake(
        job=str(work.job.pk),
        minutes=work.minutes,
        install_on=install_on,
        oldest_days=days_kept(work.specs),
        on_the_day=install_on == today,
    )


def _bench(sessions: Iterable[MakingSession], *, today: date, last: date, now: datetime) -> Bench:
    hours = hours_by_day(today, last)
    own = dict.fromkeys(hours, 0)
    for session in sessions:
        own[session.on] = own.get(session.on, 0) + session.minutes
    makers = max(1, sum(1 for member in crew_at_work() if member.making_minutes_a_day))
    most = the_business().session_minutes_most * makers
    return Bench(
        free_minutes={on: _free(day, own[on], makers, now) for on, day in hours.items()},
        session_minutes=max(STEP_MINUTES, min(most, WHOLE_DAY)),
    )


def _free(day: DayHours, own: int, makers: int, now: datetime) -> int:
    """What the sessions of other work leave of it, and of today what is left of the clock."""
    free = day.making.given - (day.making.taken - own)
    _, ends = day_bounds(day.on, day.on, timezone.get_current_timezone())
    by_the_clock = int((ends - now).total_seconds()) // SECONDS_PER_MINUTE * makers
    return max(0, min(free, by_the_clock))


def _session(row: MakingSession) -> Session:
    return Session(job=str(row.job_id), on=row.on, minutes=row.minutes, is_fixed=row.is_fixed)
