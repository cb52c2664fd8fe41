"""What jobs were thought to leave over, as frozen in the editions that clients accepted."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.urls import reverse
from django.utils import timezone

from decor.jobs.stages import ENDED_EARLY
from quoting.models import ClientAnswer
from quoting.models.client_page import AnswerKind
from quoting.reports.period import Period
from quoting.reports.table import Amount, Report, Row, Series, Table, Words, share_of

COLUMNS = ("Accepted in", "Price before tax", "Cost", "Margin", "Of the price")
JOB_COLUMNS = ("Job", "Quote", "Accepted", "Price before tax", "Cost", "Margin", "Of the price")
NOTES = (
    "As estimated, and not as it turned out: price and cost are those of the edition your client "
    "accepted, with the variants they chose. Jobs that ended early are left out.",
)
NOT_KNOWN = (
    "Left out, as the cost of the variant that was chosen was not kept when it was sent: {names}."
)


@dataclass(frozen=True, kw_only=True)
class Agreed:
    """One quote as accepted. `cost_cents` is None where it was not frozen."""

    job_pk: int
    title: str
    number: str
    on: date
    net_cents: int
    cost_cents: int | None


def margin_report(period: Period) -> Report:
    every = _agreed(period)
    known = [each for each in every if each.cost_cents is not None]
    months = [
        [each for each in known if period.month_at(each.on) == at]
        for at in range(len(period.months))
    ]
    unknown = ", ".join(each.number for each in every if each.cost_cents is None)
    together = _figures(known)
    return Report(
        key="margin",
        title="Margin as estimated",
        headline=together[2],
        says="margin on what was accepted, before tax",
        notes=(*NOTES, *([NOT_KNOWN.format(names=unknown)] if unknown else [])),
        tables=(
            Table(
                key="months",
                caption="Price, cost and margin by month",
                columns=COLUMNS,
                rows=tuple(
                    (Words(month.name), *_figures(accepted))
                    for month, accepted in zip(period.months, months, strict=True)
                ),
                total=(Words("Together"), *together),
            ),
            Table(
                key="jobs",
                caption="By job",
                columns=JOB_COLUMNS,
                rows=tuple(_job_row(each) for each in known),
                total=(Words("Together"), Words(""), Words(""), *together),
                first_are_words=3,
            ),
        ),
        series=(
            Series("Price before tax", "bar-open", _column(months, 0)),
            Series("Margin", "bar-full", _column(months, 2)),
        ),
        has_any=bool(every),
    )


def _figures(agreed: list[Agreed]) -> Row:
    net = sum(each.net_cents for each in agreed)
    cost = sum(each.cost_cents for each in agreed)
    return (Amount(net), Amount(cost), Amount(net - cost), share_of(net - cost, net))


def _column(months: list[list[Agreed]], at: int) -> tuple[int, ...]:
    return tuple(_figures(month)[at].cents for month in months)


def _job_row(each: Agreed) -> Row:
    url = reverse("job_detail", args=[each.job_pk])
    day = Words(f"{each.on.day} {each.on:%b %Y}")
    return (Words(each.title, url), Words(each.number), day, *_figures([each]))


def _agreed(period: Period) -> list[Agreed]:
    """Of each quote the newest acceptance, where it lies in the period. Only the prices are read
    of what was frozen: whole results are long."""
    found = (
        ClientAnswer.objects.filter(kind=AnswerKind.ACCEPTED)
        .exclude(edition__quote__job__stage__in=ENDED_EARLY)
        .filter(at__lt=period.moments[1])
        .order_by("at", "pk")
        .values(
            "at",
            "chosen",
            "net_cents",
            "edition__quote__number",
            "edition__quote__job",
            "edition__quote__job__title",
            "edition__result__price__cost_cents",
            "edition__result__combinations",
        )
    )
    newest = {answer["edition__quote__number"]: answer for answer in found}
    accepted = (_read(answer) for answer in newest.values())
    return sorted(
        (each for each in accepted if each.on >= period.first),
        key=lambda each: (each.on, each.number),
    )


def _read(answer: Mapping[str, Any]) -> Agreed:
    return Agreed(
        job_pk=answer["edition__quote__job"],
        title=answer["edition__quote__job__title"],
        number=answer["edition__quote__number"],
        on=timezone.localdate(answer["at"]),
        net_cents=answer["net_cents"],
        cost_cents=_cost(answer),
    )


def _cost(answer: Mapping[str, Any]) -> int | None:
    if not answer["chosen"]:
        return answer["edition__result__price__cost_cents"]
    combinations = answer["edition__result__combinations"] or []
    found = next((one for one in combinations if one["chosen"] == answer["chosen"]), {})
    return found.get("cost_cents")
