"""What was quoted against what was won, by the month of a job's first quote; and why not."""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import F, Min, QuerySet
from django.utils import timezone

from decor.jobs.stages import ENDED_EARLY
from decor.models import Job, StageMove
from decor.models.job import Stage
from quoting.models import ClientAnswer, Edition
from quoting.models.client_page import AnswerKind
from quoting.reports.period import Period
from quoting.reports.table import Amount, Count, Report, Row, Series, Table, Words, share_of

OPEN = frozenset({Stage.ASKED, Stage.QUOTED})
NOT_WON = frozenset({Stage.LOST, Stage.LET_GO})
COLUMNS = (
    "Quoted in", "Jobs", "Won", "Lost", "Let go", "Open", "Won of those decided", "Quoted", "Won",
)  # fmt: skip
WHY_COLUMNS = ("Why", "What became of it", "Jobs", "Quoted")
NO_REASON = "No reason was given"
NOTES = (
    "A job counts once, in the month its first quote was sent, with the newest price before tax. "
    "Won is what was promised, also where it was called off later: those are among the reasons.",
)


@dataclass(frozen=True, kw_only=True)
class QuotedJob:
    """Prices are before tax: the newest that was sent, and for a job won what was accepted."""

    month: int
    stage: str
    quoted_cents: int
    agreed_cents: int
    reason: str

    @property
    def is_won(self) -> bool:
        return self.stage not in OPEN | NOT_WON

    @property
    def won_cents(self) -> int:
        return self.agreed_cents if self.is_won else 0


def quoted_report(period: Period) -> Report:
    jobs = _jobs_quoted(period)
    by_month = [[job for job in jobs if job.month == at] for at in range(len(period.months))]
    quoted = tuple(sum(job.quoted_cents for job in month) for month in by_month)
    won = tuple(sum(job.won_cents for job in month) for month in by_month)
    return Report(
        key="quoted",
        title="Quoted and won",
        headline=Amount(sum(won)),
        says=f"won of {len(jobs)} {'job' if len(jobs) == 1 else 'jobs'} quoted, before tax",
        notes=NOTES,
        tables=(
            Table(
                key="months",
                caption="Jobs quoted and won by month",
                columns=COLUMNS,
                rows=tuple(
                    _row(month.name, jobs_of_month)
                    for month, jobs_of_month in zip(period.months, by_month, strict=True)
                ),
                total=_row("Together", jobs),
            ),
            _reasons(jobs),
        ),
        series=(Series("Quoted", "bar-open", quoted), Series("Won", "bar-full", won)),
        has_any=bool(jobs),
    )


def _row(name: str, jobs: list[QuotedJob]) -> Row:
    won = sum(job.is_won for job in jobs)
    stages = Counter(job.stage for job in jobs)
    is_open = sum(stages[stage] for stage in OPEN)
    return (
        Words(name),
        Count(len(jobs)),
        Count(won),
        Count(stages[Stage.LOST]),
        Count(stages[Stage.LET_GO]),
        Count(is_open),
        share_of(won, len(jobs) - is_open),
        Amount(sum(job.quoted_cents for job in jobs)),
        Amount(sum(job.won_cents for job in jobs)),
    )


def _reasons(jobs: list[QuotedJob]) -> Table:
    """Reasons that are written alike are one; the most frequent first."""
    alike: dict[tuple[str, str], list[QuotedJob]] = defaultdict(list)
    for job in jobs:
        if job.stage in ENDED_EARLY:
            alike[_plain(job.reason), job.stage].append(job)
    rows = [
        (
            Words(group[0].reason),
            Words(Stage(stage).label),
            Count(len(group)),
            Amount(sum(job.quoted_cents for job in group)),
        )
        for (_, stage), group in alike.items()
    ]
    rows.sort(key=lambda row: (-row[2].number, -row[3].cents, row[0].text))
    return Table(
        key="reasons",
        caption="Why jobs were not done",
        columns=WHY_COLUMNS,
        rows=tuple(rows),
        first_are_words=2,
    )


def _plain(reason: str) -> str:
    return " ".join(reason.casefold().split()).rstrip(".!")


def _jobs_quoted(period: Period) -> list[QuotedJob]:
    start, end = period.moments
    jobs = Job.objects.annotate(first_sent=Min("quotes__editions__sent_at")).filter(
        first_sent__gte=start, first_sent__lt=end
    )
    found = list(jobs.order_by("first_sent", "pk").values_list("pk", "stage", "first_sent"))
    # By their numbers: as a subquery PostgreSQL may ask it anew for every row, for minutes.
    keys = [pk for pk, _, _ in found]
    quoted, agreed, reasons = _newest_prices(keys), _agreed_prices(keys), _reasons_given(keys)
    return [
        QuotedJob(
            month=period.month_at(timezone.localdate(first_sent)),
            stage=stage,
            quoted_cents=quoted[pk],
            agreed_cents=agreed.get(pk, quoted[pk]),
            reason=reasons.get(pk) or NO_REASON,
        )
        for pk, stage, first_sent in found
    ]


def _newest_prices(jobs: list[int]) -> dict[int, int]:
    editions = Edition.objects.filter(quote__job__in=jobs).order_by("sent_at", "pk")
    return dict(editions.values_list("quote__job", "net_cents"))


def _agreed_prices(jobs: list[int]) -> dict[int, int]:
    accepted = _answers(jobs, AnswerKind.ACCEPTED)
    return dict(accepted.values_list("edition__quote__job", "net_cents"))


def _reasons_given(jobs: list[int]) -> dict[int, str]:
    """What the client wrote, before what the owner wrote of it."""
    moves = StageMove.objects.filter(
        job__in=jobs, job__stage__in=ENDED_EARLY, to_stage=F("job__stage")
    ).order_by("moved_at", "pk")
    declined = _answers(jobs, AnswerKind.DECLINED).exclude(reason="")
    said: Iterable[tuple[int, str]] = declined.values_list("edition__quote__job", "reason")
    return {**dict(moves.values_list("job", "reason")), **dict(said)}


def _answers(jobs: list[int], kind: AnswerKind) -> QuerySet[ClientAnswer]:
    answers = ClientAnswer.objects.filter(edition__quote__job__in=jobs, kind=kind)
    return answers.order_by("at", "pk")
