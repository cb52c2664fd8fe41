from collections.abc import Callable, Mapping
from datetime import date
from typing import Any, Final

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from quoting.reports.csv_out import table_csv
from quoting.reports.drawing import bars_drawing
from quoting.reports.held import held_report
from quoting.reports.margin import margin_report
from quoting.reports.money import money_report
from quoting.reports.period import Period, Span
from quoting.reports.period_form import PeriodForm
from quoting.reports.quoted import quoted_report
from quoting.reports.table import Report

REPORTS: Final[Mapping[str, Callable[[Period], Report]]] = {
    "money": money_report,
    "quoted": quoted_report,
    "held": held_report,
    "margin": margin_report,
}


@require_GET
def report_list(request: HttpRequest) -> HttpResponse:
    form, period, context = _asked(request)
    context["reports"] = [build(period) for build in REPORTS.values()]
    return render(request, "quoting/reports/report_list.html", context, status=_status(form))


@require_GET
def report(request: HttpRequest, key: str) -> HttpResponse:
    form, period, context = _asked(request)
    found = _report(key, period)
    context["report"] = found
    context["drawing"] = bars_drawing(
        found.series, months=period.months, currency=request.business.currency
    )
    return render(request, "quoting/reports/report.html", context, status=_status(form))


@require_GET
def report_csv(request: HttpRequest, key: str, table: str) -> HttpResponse:
    form, period, _ = _asked(request)
    found = next((one for one in _report(key, period).tables if one.key == table), None)
    if found is None or form.errors:
        raise Http404
    name = f"{key}-{table}-{period.first.isoformat()}-{period.last.isoformat()}.csv"
    disposition = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(
        table_csv(found), content_type="text/csv; charset=utf-8", headers=disposition
    )


def _report(key: str, period: Period) -> Report:
    if key not in REPORTS:
        raise Http404
    return REPORTS[key](period)


def _asked(request: HttpRequest) -> tuple[PeriodForm, Period, dict[str, Any]]:
    today: date = timezone.localdate()
    form = PeriodForm(request.GET)
    period = form.period(today=today)
    context = {
        "form": form,
        "period": period,
        "spans": [span for span in Span if span != Span.OWN],
        "own": Span.OWN,
        "chosen": form.chosen,
        "query": request.GET.urlencode(),
    }
    return form, period, context


def _status(form: PeriodForm) -> int:
    return 422 if form.errors else 200
