from collections.abc import Callable
from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from decor.calendar.days import (
    Span,
    agenda_from,
    day_asked,
    days_of,
    month_of,
    week_of,
    with_something,
)
from decor.crew.access import helper_of


@require_GET
def calendar_month(request: HttpRequest) -> HttpResponse:
    return _page(request, month_of, "decor/calendar/month.html")


@require_GET
def calendar_week(request: HttpRequest) -> HttpResponse:
    return _page(request, week_of, "decor/calendar/week.html")


@require_GET
def calendar_agenda(request: HttpRequest) -> HttpResponse:
    return _page(request, agenda_from, "decor/calendar/agenda.html")


def _page(request: HttpRequest, span_of: Callable[[date], Span], template: str) -> HttpResponse:
    today = timezone.localdate()
    day = day_asked(request.GET.get("day", ""), today=today)
    span = span_of(day)
    days = days_of(span, today=today, with_money=helper_of(request) is None)
    context = {
        "span": span,
        "day": day,
        "days": days,
        "days_with_something": with_something(days),
        "shows_today": span.holds(today),
        "is_helper": helper_of(request) is not None,
    }
    return render(request, template, context)
