"""The owner's first page."""

from datetime import date, timedelta

import pytest
from django.urls import reverse

from decor.models.letter import LetterKind, LetterState
from decor.models.payment import DueKind, Means
from decor.payments.service import PlannedDue, payment_take, schedule_set
from decor.today.page import today_page
from decor.today.sources import Deed, lines_between
from tests.decor.letters.conftest import NOW, letter_in_outbox
from tests.factories import JobFactory

TODAY = date(2026, 6, 13)
LAST = TODAY + timedelta(days=13)


@pytest.fixture
def noon(time_machine):
    time_machine.move_to(NOW, tick=False)


@pytest.fixture
def job(business):
    """Promised, so that nobody asks for its quote."""
    return JobFactory(stage="done")


def due(job, amount: int, on: date) -> None:
    dues = [PlannedDue(DueKind.DEPOSIT, on, amount)]
    schedule_set(job=job, dues=dues, source="LL-1001", now=NOW)


def line(kind: Deed):
    (found,) = [line for line in lines_between(TODAY, LAST) if line.kind == kind]
    return found


def test_a_business_that_just_began_is_taught_three_steps(owner_client):
    page = owner_client.get(reverse("home")).content.decode()
    for step in ("enquiry_new", "delivery_new"):
        assert f'<h2><a href="{reverse(step)}">' in page
    assert page.count("<li><h2>") == 3


def test_with_jobs_and_nothing_to_do_it_says_so(owner_client, job):
    page = owner_client.get(reverse("home")).content.decode()
    assert "Nothing to do for a fortnight" in page


def test_money_that_is_late_is_chased_and_what_comes_is_told_by_its_day(owner_client, job, noon):
    due(job, 20_000, TODAY - timedelta(days=3))
    other = JobFactory(title="Finish posts", stage="done")
    due(other, 5_050, TODAY + timedelta(days=9))
    far = JobFactory(title="Far away", stage="done")
    due(far, 100, LAST + timedelta(days=1))
    late, coming = line(Deed.CHASE), line(Deed.MONEY)
    assert late.text == "Deposit of $200.00, 3 days late"
    assert late.url == reverse("letter_new", args=[job.pk, LetterKind.PAYMENT_REMINDER.value])
    assert (late.is_late, coming.is_late) == (True, False)
    assert coming.text == "Deposit of $50.50"
    page = owner_client.get(reverse("home")).content.decode()
    parts = [page.index(f">{word}</h2>") for word in ("Late", "Today", "The week after")]
    assert parts == sorted(parts)
    assert "Wednesday 10 June 2026 · Wexcombe Bay Library" in page
    assert "Monday 22 June 2026 <span" in page
    assert "Within a week" not in page
    assert "Far away" not in page


def test_money_that_came_is_not_chased_and_too_much_is_given_back(job, noon):
    due(job, 20_000, TODAY)
    payment_take(
        job=job,
        amount_cents=21_000,
        means=Means.CASH,
        on=TODAY,
        note="",
        by=None,
        now=NOW,
    )
    back = line(Deed.MONEY)
    assert back.text == "Give back $10.00"
    assert back.is_about_money


def test_letters_that_failed_are_one_thing_to_look_into(job, noon):
    letter = letter_in_outbox(job)
    letter_in_outbox(job)
    assert lines_between(TODAY, LAST) == []
    type(letter).objects.filter(pk=letter.pk).update(state=LetterState.FAILED)
    one = line(Deed.LETTER)
    assert one.text == "“Thank you for having me” to reading@wexcombebay.example was not sent"
    assert one.url == reverse("letter_detail", args=[letter.pk])
    type(letter).objects.update(state=LetterState.FAILED)
    assert line(Deed.LETTER).text == "2 letters were not sent"
    assert line(Deed.LETTER).url == reverse("letter_list")


def test_the_fortnight_is_fourteen_days(job, noon):
    due(job, 100, LAST)
    assert [part.name for part in today_page(today=TODAY).ahead] == ["The week after"]
    assert today_page(today=TODAY - timedelta(days=1)).is_empty


def test_it_asks_the_same_few_questions_however_much_there_is_to_do(
    owner_client, business, noon, django_assert_max_num_queries
):
    def some_work(count: int) -> None:
        for n in range(count):
            due(JobFactory(stage="done"), 100, TODAY + timedelta(days=n - 2))
            JobFactory(stage="asked", event_on=TODAY + timedelta(days=n))
            JobFactory(stage="promised", event_on=TODAY + timedelta(days=n - 1))

    some_work(2)
    owner_client.get(reverse("home"))
    with django_assert_max_num_queries(40) as before:
        owner_client.get(reverse("home"))
    some_work(6)
    with django_assert_max_num_queries(len(before)):
        owner_client.get(reverse("home"))
