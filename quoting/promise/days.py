"""The days of an accepted edition: hours at the bench, hanging it, and taking it down."""

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta

from django.utils import timezone

from decor.calendar.capacity import clashes, hours_by_day, visits_between
from decor.calendar.moments import clock_text, local_day
from decor.calendar.visits import (
    VisitClash,
    VisitRefused,
    install_window,
    visit_call_off,
    visit_move,
    visit_plan,
)
from decor.display import date_text, hours_text
from decor.models import Job, Visit
from decor.models.visit import VisitKind
from quoting.bench.asked import Work
from quoting.bench.service import bench_look, bench_write, minutes_lost
from quoting.models.client_page import Outcome
from quoting.promise.asked import HoursAsked
from quoting.promise.refusal import NoTime, NotPromised

# When to take it down nobody has said yet: the morning or afternoon after, until it is moved.
STRIKE_AT = (time(10), time(14))
STRIKE_WITHIN_DAYS = 2
# Latex outside or in a warm hall is not hung earlier: common practice, no source
HUNG_BEFORE_DAYS = 2

NO_HOUR = "The event has no time of day yet: plan the install by hand."
DAY_IS_FULL = "Nobody has so many hours left for installing on {day}."
HAS_BEGUN = "The install would have had to begin at {when} already."
NO_STRIKE = "No time was found for taking it down: plan the strike by hand."
STRIKE_GUESSED = "Taking it down is planned for {when}: move it where that is wrong."
BENCH_IS_FULL = "Making it takes {needed}, and {lost} of that do not fit at the bench."


Window = tuple[datetime, datetime]


def days_plan(*, work: Work, hours: HoursAsked, overruled: str, now: datetime) -> list[str]:
    """Notes for the owner. Raises NoTime where it cannot be done besides all that is planned;
    `overruled` is the owner's reason why it is done all the same."""
    job = work.job
    notes = [
        *_install(job, hours, overruled, now),
        *_strike(job, hours, now),
    ]
    return [*notes, *_bench(work, overruled, now)]


def time_is_taken(job: Job, hours: HoursAsked) -> bool:
    """Whether others are promised the time in which it would hang. Plans nothing."""
    window = _window(job, hours)
    if window is None or _planned(job, VisitKind.INSTALL):
        return False
    starts_at, ends_at = window
    visit = Visit(
        job=job,
        kind=VisitKind.INSTALL,
        starts_at=starts_at,
        ends_at=ends_at,
        people=hours.people,
    )
    return _others_that_day(job, starts_at) and bool(clashes(visit))


def _install(job: Job, hours: HoursAsked, overruled: str, now: datetime) -> Iterator[str]:
    window = _window(job, hours)
    if window is None:
        yield from _some_time_that_day(job, hours, overruled)
        return
    planned = _planned(job, VisitKind.INSTALL)
    if planned and _still_fits(planned, window):
        return
    if window[0] < now:
        raise NotPromised(HAS_BEGUN.format(when=_when(window[0])))
    try:
        _plan_or_move(planned, job, hours, window, overruled, now)
    except VisitClash as clash:
        is_taken = _others_that_day(job, window[0])
        outcome = Outcome.TIME_TAKEN if is_taken else Outcome.TO_CONFIRM
        raise NoTime(str(clash), outcome=outcome) from clash
    except VisitRefused as refused:
        raise NotPromised(str(refused)) from refused


def _some_time_that_day(job: Job, hours: HoursAsked, overruled: str) -> Iterator[str]:
    """No hour is agreed, so none can be planned; but that day must have hours left."""
    if not hours.install_minutes:
        return
    installing = hours_by_day(job.event_on, job.event_on)[job.event_on].installing
    if installing.left < hours.install_minutes * hours.people and not overruled:
        outcome = Outcome.TIME_TAKEN if installing.taken else Outcome.TO_CONFIRM
        raise NoTime(DAY_IS_FULL.format(day=date_text(job.event_on)), outcome=outcome)
    yield NO_HOUR


def _plan_or_move(
    planned: Visit | None,
    job: Job,
    hours: HoursAsked,
    window: Window,
    overruled: str,
    now: datetime,
) -> None:
    starts_at, ends_at = window
    if planned is None:
        visit_plan(
            job=job,
            kind=VisitKind.INSTALL,
            starts_at=starts_at,
            ends_at=ends_at,
            people=hours.people,
            overruled_reason=overruled,
            now=now,
        )
        return
    _strike_goes_with_it(job, now)
    visit_move(
        visit=planned,
        starts_at=starts_at,
        ends_at=ends_at,
        people=hours.people,
        travel_minutes=planned.travel_minutes,
        overruled_reason=overruled,
        now=now,
    )


def _strike_goes_with_it(job: Job, now: datetime) -> None:
    """It is planned anew for the new day."""
    strike = _planned(job, VisitKind.STRIKE)
    if strike and not strike.done_at:
        visit_call_off(visit=strike, now=now)


def _strike(job: Job, hours: HoursAsked, now: datetime) -> Iterator[str]:
    """Never in the way of a promise: until someone says when, it is a guess."""
    if not hours.strike_minutes or not job.event_time or _planned(job, VisitKind.STRIKE):
        return
    for starts_at in _strike_times(job.event_on):
        try:
            visit_plan(
                job=job,
                kind=VisitKind.STRIKE,
                starts_at=starts_at,
                ends_at=starts_at + timedelta(minutes=hours.strike_minutes),
                people=hours.people,
                now=now,
            )
        except VisitRefused:
            continue
        yield STRIKE_GUESSED.format(when=_when(starts_at))
        return
    yield NO_STRIKE


def _strike_times(event_on: date) -> Iterator[datetime]:
    zone = timezone.get_current_timezone()
    for days in range(1, STRIKE_WITHIN_DAYS + 1):
        for at in STRIKE_AT:
            yield datetime.combine(event_on + timedelta(days=days), at, tzinfo=zone)


def _bench(work: Work, overruled: str, now: datetime) -> Iterator[str]:
    """By the one plan there is; what is made already is not planned again. Where others are
    pushed out by it, it has no time either."""
    if work.job.making_sessions.filter(done_at__isnull=False).exists():
        return
    planned = bench_look(now=now, promising=work)
    lost = minutes_lost(promising=work, planned=planned)
    if lost and not overruled:
        needed, lost_text = hours_text(work.minutes / 60), hours_text(lost / 60)
        raise NoTime(BENCH_IS_FULL.format(needed=needed, lost=lost_text))
    bench_write(planned, now=now)
    yield from planned.moved_of_others(work.job)
    yield from planned.short if lost else ()


def _window(job: Job, hours: HoursAsked) -> Window | None:
    if not hours.install_minutes:
        return None
    return install_window(job, minutes_on_site=hours.install_minutes)


def _planned(job: Job, kind: VisitKind) -> Visit | None:
    return Visit.objects.filter(job=job, kind=kind, called_off_at=None).first()


def _still_fits(planned: Visit, window: Window) -> bool:
    """Done, or set by hand to a time of its own before the event."""
    days_before = (local_day(window[0]) - local_day(planned.starts_at)).days
    is_near = 0 <= days_before <= HUNG_BEFORE_DAYS and planned.ends_at <= window[1]
    return planned.done_at is not None or is_near


def _others_that_day(job: Job, at: datetime) -> bool:
    on = local_day(at)
    return any(visit.job_id != job.pk for visit in visits_between(on, on))


def _when(moment: datetime) -> str:
    local = timezone.localtime(moment)
    return f"{date_text(local.date())} at {clock_text(local.time())}"
