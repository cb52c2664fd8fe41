"""Money held for what is yet to be done: a liability until the day of the event."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from django.db.models import F, Sum
from django.urls import reverse
from django.utils import timezone

from decor.jobs.stages import ENDED_EARLY
from decor.models import Job, PaymentDue, PaymentLine, StageMove
from quoting.reports.period import Period
from quoting.reports.table import Amount, Report, Row, Series, Table, Words, sums

COLUMNS = ("Month", "At the start", "Came in, less refunds", "Became yours", "At the end")
JOB_COLUMNS = ("Job", "Client", "Held until", "Held")
NO_DAY = "No day yet"
TO_GIVE_BACK = "{ended}: to give back"
NOTES = (
    "What clients paid for an event is owed to them until its day has come: on that day it becomes "
    "yours. Of a job that ended early, only what is still to be given back is held.",
    "By the event days and payments as they stand now: where one is changed, so are these months.",
)


@dataclass(frozen=True)
class Line:
    on: date
    cents: int


@dataclass(frozen=True)
class Paid:
    """A job and the money for it. `ended_on` and what is `kept_cents` of it: of one ended early."""

    job: Job
    lines: tuple[Line, ...]
    ended_on: date | None
    kept_cents: int

    def held_cents(self, day: date) -> int:
        """At the end of a day."""
        paid = sum(line.cents for line in self.lines if line.on <= day)
        if self.ended_on and self.ended_on <= day:
            return max(0, paid - self.kept_cents)
        has_been = self.job.event_on is not None and self.job.event_on <= day
        return 0 if has_been else paid


def held_report(period: Period) -> Report:
    paid = _paid(period.last)
    ends = [period.before, *(month.last for month in period.months)]
    held = [sum(each.held_cents(day) for each in paid) for day in ends]
    start, end, net = held[:-1], held[1:], _net_by_month(paid, ends)
    earned = [before + came - after for before, came, after in zip(start, net, end, strict=True)]
    columns = (start, net, earned, end)
    rows = zip(
        (Words(month.name) for month in period.months),
        *(map(Amount, column) for column in columns),
        strict=True,
    )
    together = sums((net, earned))
    return Report(
        key="held",
        title="Deposits held",
        headline=Amount(end[-1]),
        says=f"held at the end of {period.last.day} {period.last:%B} {period.last.year}",
        notes=NOTES,
        tables=(
            Table(
                key="months",
                caption="Money held for events to come, by month",
                columns=COLUMNS,
                rows=tuple(rows),
                total=(Words("Together"), Amount(start[0]), *together, Amount(end[-1])),
            ),
            _by_job(paid, period.last),
        ),
        series=(Series("Held at the end of the month", "bar-full", tuple(end)),),
        has_any=any((*held, *net)),
    )


def _net_by_month(paid: list[Paid], ends: list[date]) -> list[int]:
    net = [0] * (len(ends) - 1)
    for line in (line for each in paid for line in each.lines):
        month = bisect_left(ends, line.on) - 1
        if month >= 0:
            net[month] += line.cents
    return net


def _by_job(paid: list[Paid], day: date) -> Table:
    held = [(each.job, each.held_cents(day)) for each in paid]
    rows = tuple(_job_row(job, cents) for job, cents in held if cents)
    return Table(
        key="jobs",
        caption=f"For which jobs, at the end of {day.day} {day:%B} {day.year}",
        columns=JOB_COLUMNS,
        rows=rows,
        total=(Words("Together"), Words(""), Words(""), *sums([[row[-1].cents for row in rows]])),
        first_are_words=3,
    )


def _job_row(job: Job, cents: int) -> Row:
    url = reverse("job_detail", args=[job.pk])
    return (Words(job.title, url), Words(job.client.name), Words(_until(job)), Amount(cents))


def _until(job: Job) -> str:
    if job.stage in ENDED_EARLY:
        return TO_GIVE_BACK.format(ended=job.get_stage_display())
    return f"{job.event_on.day} {job.event_on:%b %Y}" if job.event_on else NO_DAY


def _paid(last: date) -> list[Paid]:
    """Of every job on which money moved up to that day, the next event first."""
    lines = _lines(last)
    paid_jobs = PaymentLine.objects.filter(on__lte=last).order_by().values("job")
    jobs = Job.objects.filter(pk__in=paid_jobs).select_related("client")
    ended, kept = _ended(), _kept()
    return [
        Paid(job, tuple(lines[job.pk]), ended.get(job.pk), kept.get(job.pk, 0))
        for job in jobs.order_by(F("event_on").asc(nulls_last=True), "pk")
    ]


def _lines(last: date) -> Mapping[int, list[Line]]:
    lines: dict[int, list[Line]] = defaultdict(list)
    moved = PaymentLine.objects.filter(on__lte=last).order_by()
    for job, on, cents in moved.values_list("job", "on").annotate(cents=Sum("amount_cents")):
        lines[job].append(Line(on, cents))
    return lines


def _ended() -> dict[int, date]:
    """The day by which each job that ended early did so."""
    moves = StageMove.objects.filter(job__stage__in=ENDED_EARLY, to_stage=F("job__stage"))
    at = moves.order_by("moved_at", "pk").values_list("job", "moved_at")
    return {job: timezone.localdate(moved_at) for job, moved_at in at}


def _kept() -> dict[int, int]:
    """What is owed for a job that ended early is what may be kept of its money."""
    dues = PaymentDue.objects.filter(job__stage__in=ENDED_EARLY, replaced_at=None).order_by()
    return dict(dues.values_list("job").annotate(owed=Sum("amount_cents")))
