"""What a job's page says about its visits and its hours at the bench."""

from collections.abc import Iterable
from dataclasses import dataclass

from decor.business.service import the_business
from decor.calendar.capacity import way_to
from decor.calendar.driving import Drive
from decor.calendar.fitting import session_does_not_fit, visit_does_not_fit
from decor.calendar.moments import hours_between_text
from decor.display import hours_text
from decor.jobs.stages import ENDED_EARLY
from decor.models import Job, MakingSession, Visit
from decor.models.visit import VisitKind

ONCE = (VisitKind.INSTALL, VisitKind.STRIKE)


@dataclass(frozen=True)
class VisitRow:
    visit: Visit
    hours: str
    who: str
    drive: str
    does_not_fit: str

    @property
    def is_over(self) -> bool:
        return bool(self.visit.called_off_at or self.visit.done_at)


@dataclass(frozen=True)
class SessionRow:
    session: MakingSession
    hours: str
    does_not_fit: str


@dataclass(frozen=True)
class KindToPlan:
    value: str
    label: str
    article: str


@dataclass(frozen=True)
class VisitsOfJob:
    visits: tuple[VisitRow, ...]
    sessions: tuple[SessionRow, ...]
    to_plan: tuple[KindToPlan, ...]

    @property
    def can_plan(self) -> bool:
        return bool(self.to_plan)


def visits_of(job: Job) -> VisitsOfJob:
    visits = list(job.visits.prefetch_related("crew"))
    for visit in visits:
        visit.job = job
    sessions = job.making_sessions.filter(called_off_at=None)
    return VisitsOfJob(
        visits=tuple(_visit_rows(visits)),
        sessions=tuple(_session_rows(job, sessions)),
        to_plan=_to_plan(job, visits),
    )


def does_not_fit(job: Job) -> bool:
    """Whether a visit or a session no longer goes with the event."""
    planned = visits_of(job)
    return any(row.does_not_fit for row in (*planned.visits, *planned.sessions))


def _visit_rows(visits: Iterable[Visit]) -> Iterable[VisitRow]:
    business = the_business()
    for visit in visits:
        yield VisitRow(
            visit=visit,
            hours=hours_between_text(visit.starts_at, visit.ends_at),
            who=_who(visit),
            drive=_drive_text(way_to(visit, business)),
            does_not_fit=visit_does_not_fit(
                visit, ready_before_minutes=business.ready_before_minutes
            ),
        )


def _session_rows(job: Job, sessions: Iterable[MakingSession]) -> Iterable[SessionRow]:
    for session in sessions:
        session.job = job
        yield SessionRow(session, hours_text(session.minutes / 60), session_does_not_fit(session))


def _to_plan(job: Job, visits: Iterable[Visit]) -> tuple[KindToPlan, ...]:
    """One install, one strike, as many revisits as it takes once there is an install."""
    if job.is_archived or job.stage in ENDED_EARLY:
        return ()
    planned = {visit.kind for visit in visits if visit.called_off_at is None}
    kinds = [kind for kind in ONCE if kind not in planned]
    kinds += [VisitKind.REVISIT] if VisitKind.INSTALL in planned else []
    return tuple(
        KindToPlan(k.value, k.label, "an" if k == VisitKind.INSTALL else "a") for k in kinds
    )


def _who(visit: Visit) -> str:
    names = ", ".join(member.name for member in visit.crew.all())
    count = "1 person" if visit.people == 1 else f"{visit.people} people"
    return f"{count}: {names}" if names else count


def _drive_text(drive: Drive) -> str:
    if not drive.is_known:
        return "the drive there is not known"
    return f"{'about ' if drive.is_guessed else ''}{drive.minutes} min to drive there"
