"""Whether there are hours and hands for it: making, installing, and the drives between places."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from math import ceil

from django.utils import timezone

from decor.business.service import the_business
from decor.calendar.driving import Drive, minutes_between, minutes_to
from decor.calendar.moments import clock_text, day_bounds, hours_between_text, local_day
from decor.calendar.staffing import Stay, Worker, unstaffed
from decor.crew.service import crew_at_work, works_on
from decor.display import date_text, hours_text
from decor.models import Business, CrewMember, MakingSession, Visit

NOBODY_WORKS = "Nobody works on {day}."
TOO_FEW = "{people} people are needed, and on {day} there {works}."
HAS_LEFT = "{name} is not of your crew any more."
DAY_OFF = "{name} does not work on {weekdays}."
DAY_IS_FULL = "Installing on {day} would take {taken} of people’s time with the drives: {given}."
NOBODY_FREE = "Nobody has so many hours left on {day}."
STILL_UNDER_WAY = "{what} {times} is still under way{drive}."
ENDED_LATE = "{what} {times} ends too late{drive}."
BEGINS_DURING = "{what} {times} begins before this one ends{drive}."
BEGINS_TOO_SOON = "{what} {times} begins too soon after{drive}."
LET_STAND = " You let it stand: “{why}”"
THE_DRIVE = ", and the drive takes {minutes} minutes"
THE_DRIVE_GUESSED = ", and the drive takes about {minutes} minutes (a guess from the map)"


@dataclass(frozen=True)
class Minutes:
    """Of people's time on one day."""

    given: int
    taken: int

    @property
    def left(self) -> int:
        return self.given - self.taken

    @property
    def is_over(self) -> bool:
        return self.left < 0


@dataclass(frozen=True)
class DayHours:
    on: date
    making: Minutes
    installing: Minutes


def hours_free(on: date) -> DayHours:
    return hours_by_day(on, on)[on]


def hours_by_day(first: date, last: date) -> dict[date, DayHours]:
    """Two questions to the database and one for the crew, however many days."""
    crew, workshop = crew_at_work(), the_business()
    making = dict.fromkeys(_days(first, last), 0)
    installing = dict.fromkeys(_days(first, last), 0)
    sessions = MakingSession.objects.filter(on__range=(first, last), called_off_at=None)
    for on, minutes in sessions.values_list("on", "minutes"):
        making[on] += minutes
    for visit in visits_between(first, last):
        taken = minutes_of_each(visit, workshop) * visit.people
        installing[local_day(visit.starts_at)] += taken
    return {
        on: DayHours(
            on,
            Minutes(sum(m.making_minutes_a_day for m in crew if works_on(m, on)), making[on]),
            Minutes(sum(m.install_minutes_a_day for m in crew if works_on(m, on)), installing[on]),
        )
        for on in making
    }


def visits_between(first: date, last: date) -> list[Visit]:
    """Those that begin on these days and were not called off, with all that is asked of them."""
    begins, ends = day_bounds(first, last, timezone.get_current_timezone())
    visits = Visit.objects.filter(starts_at__gte=begins, starts_at__lt=ends, called_off_at=None)
    return list(visits.select_related("job__site", "job__client").prefetch_related("crew"))


def minutes_of_each(visit: Visit, workshop: Business | None) -> int:
    """At the place, and the way there and back as if it began and ended at the workshop."""
    there = ceil((visit.ends_at - visit.starts_at) / timedelta(minutes=1))
    return there + 2 * way_to(visit, workshop).minutes


def way_to(visit: Visit, workshop: Business | None) -> Drive:
    return minutes_to(visit.job.site, workshop, visit.travel_minutes)


def clashes(visit: Visit, *, named: Iterable[CrewMember] = ()) -> tuple[str, ...]:
    """Why this visit, saved or not, cannot be done as it stands: in words for the owner. Empty
    where the people there are can do it besides all that is planned."""
    on = local_day(visit.starts_at)
    near = visits_between(on - timedelta(days=1), on + timedelta(days=1))
    others = [other for other in near if other.pk != visit.pk]
    return problems_with(visit, others, _Room.now(), list(named))


@dataclass(frozen=True)
class _Room:
    """Who works, and from where."""

    crew: tuple[CrewMember, ...]
    workshop: Business | None

    @classmethod
    def now(cls) -> "_Room":
        return cls(tuple(crew_at_work()), the_business())

    def at_work(self, on: date) -> list[CrewMember]:
        return [member for member in self.crew if works_on(member, on)]

    def drive(self, a: Visit, b: Visit) -> Drive:
        ways = {"way_to_a": way_to(a, self.workshop), "way_to_b": way_to(b, self.workshop)}
        return minutes_between(a.job.site, b.job.site, **ways)

    def together(self, a: Visit, b: Visit) -> bool:
        """Whether the same people can be at both, with the drive between."""
        first, then = sorted((a, b), key=lambda visit: visit.starts_at)
        drive = timedelta(minutes=self.drive(first, then).minutes)
        return first.ends_at + drive <= then.starts_at


def problems_by_day(visits: Sequence[Visit]) -> dict[date, tuple[str, ...]]:
    """What clashes among visits that are planned, each said on the day of the later of the two."""
    room = _Room.now()
    found: dict[date, tuple[str, ...]] = {}
    for at, visit in enumerate(visits):
        on = local_day(visit.starts_at)
        if visit.done_at:
            continue
        before = [v for v in visits[:at] if on - local_day(v.starts_at) <= timedelta(days=1)]
        problems = problems_with(visit, before, room, list(visit.crew.all()))
        if problems:
            what = f"{what_text(visit)} {hours_between_text(visit.starts_at, visit.ends_at)}"
            why = LET_STAND.format(why=visit.overruled_reason) if visit.overruled_reason else ""
            found[on] = (*found.get(on, ()), *(f"{what}: {said}{why}" for said in problems))
    return found


def problems_with(
    visit: Visit, others: Sequence[Visit], room: _Room, named: Sequence[CrewMember]
) -> tuple[str, ...]:
    on = local_day(visit.starts_at)
    at_work = room.at_work(on)
    if not at_work:
        return (NOBODY_WORKS.format(day=date_text(on)),)
    off = [member for member in named if member not in at_work]
    if off:
        return tuple(_absent_text(member, on) for member in off)
    if visit.people > len(at_work):
        works = "is one at work" if len(at_work) == 1 else f"are {len(at_work)} at work"
        return (TOO_FEW.format(people=visit.people, day=date_text(on), works=works),)
    if _can_be_done(visit, others, room, named):
        return ()
    apart = [other for other in others if not room.together(visit, other)]
    said = tuple(_apart_text(visit, other, room.drive(visit, other)) for other in apart)
    return said or (_full_day_text(visit, others, room),)


def _can_be_done(
    visit: Visit, others: Sequence[Visit], room: _Room, named: Sequence[CrewMember]
) -> bool:
    """It leaves no more places without a person than there were before it. (There are some where
    the owner has overruled a clash.)"""
    on = local_day(visit.starts_at)
    near = [v for v in others if local_day(v.starts_at) == on or not room.together(visit, v)]
    stays = [_stay(other, room, other.crew.all()) for other in near]
    workers = [
        Worker(pk=member.pk, minutes=member.install_minutes_a_day, week=member.week)
        for member in room.crew
    ]
    whole = [*stays, _stay(visit, room, named)]

    def together(a: Stay, b: Stay) -> bool:
        return room.together(a.key, b.key)

    return unstaffed(whole, workers, together) <= unstaffed(stays, workers, together)


def _stay(visit: Visit, room: _Room, named: Iterable[CrewMember]) -> Stay:
    at_work = {member.pk for member in room.crew}
    return Stay(
        key=visit,
        on=local_day(visit.starts_at),
        minutes=minutes_of_each(visit, room.workshop),
        people=min(visit.people, len(at_work)),
        named=frozenset(member.pk for member in named) & at_work,
    )


def _absent_text(member: CrewMember, on: date) -> str:
    words = HAS_LEFT if member.archived_at else DAY_OFF
    return words.format(name=member.name, weekdays=f"{on:%A}s")


def _apart_text(visit: Visit, other: Visit, drive: Drive) -> str:
    if other.starts_at <= visit.starts_at:
        words = STILL_UNDER_WAY if other.ends_at > visit.starts_at else ENDED_LATE
    else:
        words = BEGINS_DURING if other.starts_at < visit.ends_at else BEGINS_TOO_SOON
    times = hours_between_text(other.starts_at, other.ends_at)
    return words.format(what=what_text(other), times=times, drive=_drive_text(drive))


def _drive_text(drive: Drive) -> str:
    if not drive.minutes:
        return ""
    return (THE_DRIVE_GUESSED if drive.is_guessed else THE_DRIVE).format(minutes=drive.minutes)


def _full_day_text(visit: Visit, others: Sequence[Visit], room: _Room) -> str:
    on = local_day(visit.starts_at)
    that_day = [visit, *(other for other in others if local_day(other.starts_at) == on)]
    taken = sum(minutes_of_each(each, room.workshop) * each.people for each in that_day)
    given = sum(member.install_minutes_a_day for member in room.at_work(on))
    if taken <= given:
        return NOBODY_FREE.format(day=date_text(on))
    has = f"there are {hours_text(given / 60)}" if given else "there is none"
    return DAY_IS_FULL.format(day=date_text(on), taken=hours_text(taken / 60), given=has)


def what_text(visit: Visit) -> str:
    """`Install at Harrow Hill`; without a place, what the job is called."""
    where = f"at {visit.job.site.name}" if visit.job.site else f"of “{visit.job.title}”"
    return f"{visit.get_kind_display()} {where}"


def window_text(starts_at: datetime, minutes: int) -> str:
    """When to expect whoever comes: `between 9 a.m. and 9:30 a.m.`"""
    begins = timezone.localtime(starts_at)
    ends = timezone.localtime(starts_at + timedelta(minutes=minutes))
    if minutes == 0:
        return f"at {clock_text(begins.time())}"
    return f"between {clock_text(begins.time())} and {clock_text(ends.time())}"


def _days(first: date, last: date) -> list[date]:
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]
