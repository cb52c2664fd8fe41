from datetime import timedelta

import pytest
from django.urls import reverse

from decor.crew.work import work_ahead
from decor.today import sources
from decor.today.sources import Deed, TodayLine


@pytest.fixture
def lines(monkeypatch, today):
    """Of each kind one, as the rooms would say them."""
    said = [
        TodayLine(on=today, kind=Deed.INSTALL, text="Hang the arch", url=reverse("home")),
        TodayLine(
            on=today + timedelta(days=1),
            kind=Deed.MAKE,
            text="Make 40 clusters",
            url=reverse("job_detail", args=[1]),
        ),
        TodayLine(
            on=today,
            kind=Deed.CHASE,
            text="Deposit of $120.00 is late",
            url="/jobs/1/",
            is_about_money=True,
        ),
        TodayLine(on=today, kind=Deed.QUOTE, text="A quote of $500.00 waits", url="/quotes/1/"),
        TodayLine(
            on=today,
            kind=Deed.MAKE,
            text="Made once the deposit is in",
            url="",
            is_about_money=True,
        ),
    ]
    monkeypatch.setattr(sources, "_sources", [lambda first, last: said])


@pytest.mark.usefixtures("lines")
def test_only_work_is_said_and_by_day(today):
    days = work_ahead(today=today)
    assert [(day.on, [work.line.text for work in day.lines]) for day in days] == [
        (today, ["Hang the arch"]),
        (today + timedelta(days=1), ["Make 40 clusters"]),
    ]


@pytest.mark.usefixtures("lines")
def test_a_line_leads_only_where_a_helper_may_go(today):
    first, second = work_ahead(today=today)
    assert first.lines[0].url == reverse("home")
    assert second.lines[0].url == ""


@pytest.mark.usefixtures("lines")
def test_the_page_says_the_work_and_no_money(helpers_browser, time_machine, today):
    time_machine.move_to(f"{today}T12:00:00Z")
    page = helpers_browser.get(reverse("work_today")).text
    assert "Hang the arch" in page and "Make 40 clusters" in page
    assert "$" not in page
    assert "Tomorrow" in page


def test_without_work_it_says_so(helpers_browser, monkeypatch):
    monkeypatch.setattr(sources, "_sources", [])
    assert "Nothing to make or hang" in helpers_browser.get(reverse("work_today")).text
