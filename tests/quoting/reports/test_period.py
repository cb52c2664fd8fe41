from datetime import date
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from quoting.reports.period import Month, Period, Span, period_of
from quoting.reports.period_form import SAY_BOTH, TOO_LONG, WRONG_WAY_ROUND, PeriodForm

TODAY = date(2026, 6, 13)


@pytest.mark.parametrize(
    ("span", "first", "last"),
    [
        (Span.TWELVE, date(2025, 7, 1), TODAY),
        (Span.THIS_YEAR, date(2026, 1, 1), TODAY),
        (Span.LAST_YEAR, date(2025, 1, 1), date(2025, 12, 31)),
    ],
)
def test_a_period_with_a_name(span, first, last):
    assert period_of(span, today=TODAY) == Period(first, last)


@pytest.mark.parametrize("today", [date(2026, 12, 31), date(2024, 2, 29), date(2026, 1, 1)])
def test_the_last_twelve_months_are_twelve(today):
    assert len(period_of(Span.TWELVE, today=today).months) == 12


@given(st.dates(date(1990, 1, 1), date(2090, 1, 1)), st.integers(0, 2000))
def test_the_months_of_a_period_hold_each_day_once(first, days):
    period = Period(first, date.fromordinal(first.toordinal() + days))
    months = period.months
    assert sum((month.last - month.first).days + 1 for month in months) == days + 1
    assert all(
        period.month_at(day) == at for at, m in enumerate(months) for day in (m.first, m.last)
    )


def test_a_month_that_is_not_whole_says_its_days():
    names = [month.name for month in Period(date(2026, 1, 31), TODAY).months]
    assert names == ["31 Jan 2026", "Feb 2026", "Mar 2026", "Apr 2026", "May 2026", "1–13 Jun 2026"]
    assert Month(date(2024, 2, 1), date(2024, 2, 29)).name == "Feb 2024"


def test_days_begin_at_midnight_where_the_business_is_also_when_clocks_change():
    """In New York clocks went forward on 8 March 2026 and go back on 1 November (tz database)."""
    with timezone.override(ZoneInfo("America/New_York")):
        for day, hours in ((date(2026, 3, 8), 23), (date(2026, 11, 1), 25), (TODAY, 24)):
            start, end = Period(day, day).moments
            assert (end.timestamp() - start.timestamp()) / 3600 == hours
            assert start.isoformat().startswith(f"{day}T00:00:00-0")


@pytest.mark.parametrize(
    ("first", "last", "field", "message"),
    [
        ("2026-03-01", "2026-02-28", "last", WRONG_WAY_ROUND),
        ("2026-03-01", "", "last", SAY_BOTH),
        ("", "2026-03-01", "first", SAY_BOTH),
        ("1990-01-01", "2026-01-01", "last", TOO_LONG),
        ("yesterday", "2026-01-01", "first", "Enter a valid date."),
    ],
)
def test_days_that_make_no_period_are_said_beside_them(first, last, field, message):
    form = PeriodForm({"span": "own", "first": first, "last": last})
    assert form.period(today=TODAY) == period_of(Span.TWELVE, today=TODAY)
    assert form.errors[field] == [message]


def test_a_period_of_ones_own():
    form = PeriodForm({"span": "own", "first": "2026-01-15", "last": "2026-01-15"})
    assert form.period(today=TODAY) == Period(date(2026, 1, 15), date(2026, 1, 15))
