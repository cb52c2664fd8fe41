"""Money by month, as the ledger of payments has it."""

from django.db.models import Q, Sum

from decor.models import PaymentLine
from decor.models.payment import PaymentKind
from quoting.reports.period import Period
from quoting.reports.table import Amount, Report, Series, Table, Words, sums

# What was entered by mistake never came in: its correction is on the same day and side.
CAME_IN = Q(kind=PaymentKind.PAYMENT) | Q(corrects__kind=PaymentKind.PAYMENT)
COLUMNS = ("Month", "In", "Out", "Net")
NOTES = (
    "By the day the money came or went. In is what clients paid; out is what was given back to "
    "them. A line that was corrected counts neither way.",
)


def money_report(period: Period) -> Report:
    came, net = _by_month(period)
    out = tuple(taken - left for taken, left in zip(came, net, strict=True))
    names = [Words(month.name) for month in period.months]
    rows = zip(names, *(map(Amount, column) for column in (came, out, net)), strict=True)
    return Report(
        key="money",
        title="Money by month",
        headline=Amount(sum(net)),
        says="came in, less what went back",
        notes=NOTES,
        tables=(
            Table(
                key="months",
                caption="Money in and out by month",
                columns=COLUMNS,
                rows=tuple(rows),
                total=(Words("Together"), *sums((came, out, net))),
            ),
        ),
        series=(Series("In", "bar-full", came), Series("Out", "bar-open", out)),
        has_any=any((*came, *out)),
    )


def _by_month(period: Period) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """What came, and what is left of it after all that went: the ledger's own sum."""
    came, net = ([0] * len(period.months) for _ in range(2))
    days = (
        PaymentLine.objects.filter(on__range=(period.first, period.last))
        .order_by()
        .values_list("on")
        .annotate(net=Sum("amount_cents"), came=Sum("amount_cents", filter=CAME_IN, default=0))
    )
    for on, day_net, day_came in days:
        net[period.month_at(on)] += day_net
        came[period.month_at(on)] += day_came
    return tuple(came), tuple(net)
