"""Visits on Saturday 20 June 2026, the day of JobFactory's event, in the business's zone."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from decor.calendar.visits import visit_plan
from decor.models import CrewMember, Job, Visit
from decor.models.crew import Role
from decor.models.visit import VisitKind
from tests.factories import JobFactory

NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)
SATURDAY = date(2026, 6, 20)
ZONE = ZoneInfo("America/New_York")


def at(clock: str, *, on: date = SATURDAY) -> datetime:
    return datetime.combine(on, time.fromisoformat(clock), tzinfo=ZONE)


def plan(
    begins: str,
    ends: str,
    *,
    job: Job | None = None,
    kind: VisitKind = VisitKind.INSTALL,
    on: date = SATURDAY,
    **more: object,
) -> Visit:
    return visit_plan(
        job=job or JobFactory(),
        kind=kind,
        starts_at=at(begins, on=on),
        ends_at=at(ends, on=on),
        now=NOW,
        **more,
    )


def job_at(name: str, *, drive: int | None = None, title: str = "Finish-line posts") -> Job:
    return JobFactory(title=title, site__name=name, site__drive_minutes=drive)


def nell_and_tomas() -> tuple[CrewMember, CrewMember]:
    nell = CrewMember.objects.create(name="Nell", role=Role.OWNER)
    return nell, CrewMember.objects.create(name="Tomas")


def days_later(days: int) -> date:
    return SATURDAY + timedelta(days=days)
