"""Times at a job's place: planned, moved, called off, done."""

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from django.contrib.auth.models import User
from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils import timezone

from decor.business.service import the_business
from decor.calendar.capacity import clashes
from decor.calendar.moments import clock_text, moments_of
from decor.display import date_text
from decor.jobs.facts import done_if_settled, fact_moves
from decor.jobs.stages import ENDED_EARLY, MoveRefused
from decor.models import Business, CrewMember, Job, Visit
from decor.models.job import Stage
from decor.models.visit import VisitKind

LONGEST = timedelta(hours=24)
ENDS_FIRST = "A visit ends after it begins."
IS_LONG = "A visit takes at most 24 hours."
JOB_HAS_ENDED = "This job is “{stage}”: there is nothing to go there for."
JOB_IS_ARCHIVED = "This job is archived. Bring it back before you plan for it."
IS_PLANNED = "This job has its {kind} already: move that one."
STRIKE_FIRST = "The install ends {when}, and it cannot be taken down before it hangs."
REVISIT_FIRST = "The install ends {when}, and there is nothing to mend before it hangs."
INSTALL_LAST = "The strike begins {when}, and this must be over before it."
WAS_CALLED_OFF = "This visit was called off. Plan another one."
WAS_DONE = "This visit is done already."
CHANGED_MEANWHILE = "Someone else changed this visit a moment ago. Look at it again."
NOT_UP_YET = "It cannot be taken down before it hangs: finish the install first."
IT_HANGS = "The install is done"
HUNG = (Stage.UP, Stage.DONE)


class VisitRefused(Exception):
    """The message is for the owner to read. No reason can overrule it."""


class VisitClash(VisitRefused):
    """There are not the hours or the people for it. The owner may say why it stands anyway."""

    def __init__(self, problems: tuple[str, ...]) -> None:
        super().__init__(" ".join(problems))
        self.problems = problems


def event_begins_at(job: Job) -> datetime | None:
    """None while it has no day and time. In the hour that comes twice it is in the first of the
    two; in the hour that is skipped, when the clocks have gone forward."""
    if job.event_on is None or job.event_time is None:
        return None
    zone = timezone.get_current_timezone()
    skipped = datetime.combine(job.event_on, job.event_time, tzinfo=zone).astimezone(UTC)
    return next(iter(moments_of(job.event_on, job.event_time, zone)), skipped)


def install_window(job: Job, *, minutes_on_site: int) -> tuple[datetime, datetime] | None:
    """When to hang it: so long before the event as the business wants it ready. None while the
    event has no day and time."""
    begins = event_begins_at(job)
    if begins is None:
        return None
    business = the_business()
    ends_at = begins - timedelta(minutes=business.ready_before_minutes if business else 0)
    return ends_at - timedelta(minutes=minutes_on_site), ends_at


@transaction.atomic
def visit_plan(
    *,
    job: Job,
    kind: VisitKind,
    starts_at: datetime,
    ends_at: datetime,
    people: int = 1,
    travel_minutes: int | None = None,
    crew: Iterable[CrewMember] = (),
    note: str = "",
    overruled_reason: str = "",
    now: datetime,
) -> Visit:
    """Raises VisitRefused, or VisitClash where a reason would let it stand."""
    _one_at_a_time()
    visit = Visit(
        job=job,
        kind=kind,
        starts_at=starts_at,
        ends_at=ends_at,
        people=people,
        travel_minutes=travel_minutes,
        note=note,
        changed_at=now,
    )
    _settle(visit, list(crew), overruled_reason)
    try:
        with transaction.atomic():
            visit.save()
    except IntegrityError:
        raise VisitRefused(IS_PLANNED.format(kind=visit.get_kind_display().lower())) from None
    visit.crew.set(crew)
    return visit


@transaction.atomic
def visit_move(
    *,
    visit: Visit,
    starts_at: datetime,
    ends_at: datetime,
    people: int | None = None,
    travel_minutes: int | None = None,
    crew: Iterable[CrewMember] | None = None,
    note: str | None = None,
    overruled_reason: str = "",
    now: datetime,
) -> Visit:
    """To another time, and with it who goes. What is None stays, but for the drive, where None is
    by the place. A reason to overrule counts for this time only."""
    _one_at_a_time()
    moved = Visit.objects.select_related("job").get(pk=visit.pk)
    _refuse_what_is_over(moved)
    moved.starts_at, moved.ends_at, moved.travel_minutes = starts_at, ends_at, travel_minutes
    moved.people = moved.people if people is None else people
    moved.note = moved.note if note is None else note
    named = list(moved.crew.all() if crew is None else crew)
    _settle(moved, named, overruled_reason)
    moved.sequence, moved.changed_at = moved.sequence + 1, now
    moved.save()
    moved.crew.set(named)
    return moved


@transaction.atomic
def visit_call_off(*, visit: Visit, now: datetime) -> None:
    called = Visit.objects.filter(pk=visit.pk, called_off_at=None, done_at=None).update(
        called_off_at=now, changed_at=now, sequence=F("sequence") + 1
    )
    if not called:
        visit.refresh_from_db()
        _refuse_what_is_over(visit)
    visit.refresh_from_db()


@transaction.atomic
def visit_done(*, visit: Visit, by: User | None, now: datetime) -> None:
    """An install that is done puts the job up; a strike may settle it. Raises VisitRefused."""
    if visit.kind == VisitKind.STRIKE and visit.job.stage not in HUNG:
        raise VisitRefused(NOT_UP_YET)
    done = Visit.objects.filter(pk=visit.pk, called_off_at=None, done_at=None).update(done_at=now)
    visit.refresh_from_db()
    if not done:
        _refuse_what_is_over(visit)
    job = visit.job
    try:
        if visit.kind == VisitKind.INSTALL:
            fact_moves(job=job, to=Stage.UP, why=IT_HANGS, by=by, now=now)
        elif visit.kind == VisitKind.STRIKE:
            done_if_settled(job=job, by=by, now=now)
    except MoveRefused as refused:
        raise VisitRefused(str(refused)) from refused


def visit_not_done(*, visit: Visit) -> None:
    """Takes the mark back. The job's stage stays where it is: that is moved by hand."""
    Visit.objects.filter(pk=visit.pk).update(done_at=None)


def visits_call_off_all(*, job: Job, now: datetime) -> None:
    """All that have not been done yet."""
    open_ones = Visit.objects.filter(job=job, called_off_at=None, done_at=None)
    open_ones.update(called_off_at=now, changed_at=now, sequence=F("sequence") + 1)


def _one_at_a_time() -> None:
    """Of two who want the same hour the second sees the first: each waits for the business's row.
    On SQLite a transaction that writes has the whole file to itself."""
    Business.objects.select_for_update(no_key=True).filter(pk=Business.THE_ONE).first()


def _settle(visit: Visit, named: list[CrewMember], overruled_reason: str) -> None:
    visit.people = max(visit.people, len(named))
    _refuse_what_cannot_be(visit)
    problems = clashes(visit, named=named)
    if problems and not overruled_reason.strip():
        raise VisitClash(problems)
    visit.overruled_reason = overruled_reason.strip() if problems else ""


def _refuse_what_cannot_be(visit: Visit) -> None:
    job = visit.job
    if job.is_archived:
        raise VisitRefused(JOB_IS_ARCHIVED)
    if job.stage in ENDED_EARLY:
        raise VisitRefused(JOB_HAS_ENDED.format(stage=Stage(job.stage).label.lower()))
    if visit.ends_at <= visit.starts_at:
        raise VisitRefused(ENDS_FIRST)
    if visit.ends_at - visit.starts_at > LONGEST:
        raise VisitRefused(IS_LONG)
    _refuse_another_order(visit)


def _refuse_another_order(visit: Visit) -> None:
    """It is hung, then mended where need be, then taken down."""
    planned = Visit.objects.filter(job=visit.job, called_off_at=None).exclude(pk=visit.pk)
    by_kind = {other.kind: other for other in planned}
    install, strike = by_kind.get(VisitKind.INSTALL), by_kind.get(VisitKind.STRIKE)
    if visit.kind in by_kind and visit.kind != VisitKind.REVISIT:
        raise VisitRefused(IS_PLANNED.format(kind=visit.get_kind_display().lower()))
    if visit.kind != VisitKind.INSTALL and install and visit.starts_at < install.ends_at:
        words = STRIKE_FIRST if visit.kind == VisitKind.STRIKE else REVISIT_FIRST
        raise VisitRefused(words.format(when=_when(install.ends_at)))
    if visit.kind != VisitKind.STRIKE and strike and visit.ends_at > strike.starts_at:
        raise VisitRefused(INSTALL_LAST.format(when=_when(strike.starts_at)))


def _when(moment: datetime) -> str:
    local = timezone.localtime(moment)
    return f"{date_text(local.date())} at {clock_text(local.time())}"


def _refuse_what_is_over(visit: Visit) -> None:
    if visit.called_off_at:
        raise VisitRefused(WAS_CALLED_OFF)
    if visit.done_at:
        raise VisitRefused(WAS_DONE)
