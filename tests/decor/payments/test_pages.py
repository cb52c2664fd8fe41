from datetime import UTC, datetime, timedelta

import pytest
from django.urls import reverse

from decor.jobs.stages import SAY_WHY
from decor.models import Job, PaymentLine
from decor.models.job import Stage
from decor.models.payment import DueKind, Means
from decor.payments import forms, views, words
from decor.payments.service import (
    CORRECTED_ALREADY,
    MORE_THAN_NOTHING,
    NOT_PAID_SO_MUCH,
    PlannedDue,
    payment_take,
    schedule_set,
)
from tests.conftest import TODAY
from tests.factories import ClientFactory, JobFactory

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 6, 13, 15, tzinfo=UTC)
LIST = "/money/"


@pytest.fixture(autouse=True)
def frozen(time_machine):
    time_machine.move_to(NOW, tick=False)


@pytest.fixture
def job() -> Job:
    return owing("Reading-week arch")


def owing(title: str, *, from_on=TODAY, stage: str = Stage.QUOTED) -> Job:
    """A deposit of 293.78, and 293.77 twenty days later."""
    job = JobFactory(title=title, stage=stage, client=ClientFactory(name=f"Client of {title}"))
    dues = [
        PlannedDue(DueKind.DEPOSIT, from_on, 293_78),
        PlannedDue(DueKind.BALANCE, from_on + timedelta(days=20), 293_77),
    ]
    schedule_set(job=job, dues=dues, source="LL-1001, edition 1", now=NOW)
    return job


def took(job: Job, cents: int) -> PaymentLine:
    return payment_take(
        job=job, amount_cents=cents, means=Means.CASH, on=TODAY, note="", by=None, now=NOW
    )


def address(name: str, job: Job) -> str:
    return reverse(name, args=[job.pk])


def entry(**changes: str) -> dict[str, str]:
    return {
        "amount": "293.78",
        "means": "transfer",
        "on": "2026-06-13",
        "note": "",
        "once": "one",
    } | changes


def test_a_payment_is_entered_and_moves_what_it_moves(owner_client, owner, job):
    form = owner_client.get(address("payment_new", job)).context["form"]
    assert form["amount"].value() == "293.78"
    reply = owner_client.post(address("payment_new", job), entry(), follow=True)
    line = PaymentLine.objects.get()
    assert (line.amount_cents, line.means, line.by, line.on) == (293_78, "transfer", owner, TODAY)
    assert Job.objects.get().stage == Stage.PROMISED
    page = reply.text
    assert "$293.78 is entered" in page
    assert "is now “Promised”" in page and "held firmly" in page
    assert "Balance: $293.77, due Friday 3 July 2026 (in 20 days)." in page
    assert f"R-{line.pk:04d} (PDF)" in page and "Nell Okafor-Hart" in page


def test_a_part_is_taken_and_the_rest_of_it_is_still_due(owner_client, job):
    page = owner_client.post(address("payment_new", job), entry(amount="100"), follow=True).text
    assert "$193.78 open, due today" in page
    assert Job.objects.get().stage == Stage.QUOTED


@pytest.mark.parametrize(
    ("change", "field", "message"),
    [
        ({"amount": "0"}, "amount", MORE_THAN_NOTHING),
        ({"amount": ""}, "amount", MORE_THAN_NOTHING),
        ({"amount": "-5"}, "amount", "Between $0.00"),
        ({"amount": "12,50"}, "amount", "Write an amount"),
        ({"amount": "9999999999999"}, "amount", "Between $0.00"),
        ({"amount": "587.56"}, "amount", "$0.01 more than is owed"),
        ({"on": "2026-06-14"}, "on", forms.NOT_YET),
        ({"on": "2019-06-14"}, "on", forms.TOO_LONG_AGO),
        ({"means": "shells"}, "means", "valid choice"),
        ({"note": "x" * 301}, "note", "at most 300"),
    ],
)
def test_what_is_wrong_with_a_payment_is_said_beside_its_field(
    owner_client, job, change, field, message
):
    reply = owner_client.post(address("payment_new", job), entry(**change))
    assert reply.status_code == 422
    assert message in reply.context["form"].errors[field][0]
    assert reply.context["form"][field].value() == next(iter(change.values()))
    assert not PaymentLine.objects.exists()


def test_more_than_is_owed_is_taken_once_it_is_said_twice(owner_client, job):
    too_much = entry(amount="600")
    reply = owner_client.post(address("payment_new", job), too_much)
    assert "So much really came" in reply.text
    page = owner_client.post(
        address("payment_new", job), {**too_much, "is_more": "on"}, follow=True
    ).text
    assert "$12.45 more came than is owed" in page


def test_before_anything_is_agreed_money_is_taken_on_account(owner_client):
    job = JobFactory()
    page = owner_client.post(address("payment_new", job), entry(), follow=True).text
    assert "$293.78 came before anything was agreed" in page


def test_two_presses_of_one_button_make_one_line_and_two_pages_make_two(owner_client, job):
    small = entry(amount="10")
    for _ in range(2):
        page = owner_client.post(address("payment_new", job), small, follow=True).text
    assert views.ENTERED_ALREADY in page
    owner_client.post(address("payment_new", job), {**small, "once": "two"})
    owner_client.post(address("payment_new", job), {**small, "amount": "11"})
    amounts = PaymentLine.objects.values_list("amount_cents", flat=True)
    assert list(amounts) == [10_00, 10_00, 11_00]


def test_the_whole_amount_pressed_twice_is_no_mistake_the_second_time(owner_client, job):
    for _ in range(2):
        reply = owner_client.post(address("payment_new", job), entry(amount="587.55"))
        assert reply.status_code == 302
    assert PaymentLine.objects.count() == 1


def test_a_deposit_that_cannot_promise_is_in_and_says_so(owner_client, job):
    Job.objects.update(stage=Stage.ASKED)
    took(job, 293_78)
    Job.objects.update(stage=Stage.QUOTED)
    assert words.NOT_PROMISED in owner_client.get(address("job_detail", job)).text


# ---- Refunds and corrections


def test_a_refund_is_entered_with_its_reason(owner_client, job):
    took(job, 600_00)
    form = owner_client.get(address("refund_new", job)).context["form"]
    assert form["amount"].value() == "12.45"
    refund = entry(amount="12.45", note="Paid too much")
    for _ in range(2):
        page = owner_client.post(address("refund_new", job), refund, follow=True).text
    assert views.ENTERED_ALREADY in page
    assert list(job.payments.values_list("amount_cents", "note")) == [
        (600_00, ""),
        (-12_45, "Paid too much"),
    ]
    assert "Paid in full." in page


@pytest.mark.parametrize(
    ("change", "field", "message"),
    [
        ({"amount": "100.01"}, "amount", f"{NOT_PAID_SO_MUCH} At most $100.00 came."),
        ({"amount": "0"}, "amount", MORE_THAN_NOTHING),
        ({"note": " "}, "note", SAY_WHY),
    ],
)
def test_what_is_wrong_with_a_refund_is_said_beside_its_field(
    owner_client, job, change, field, message
):
    took(job, 100_00)
    refund = entry(amount="50", note="Less was made") | change
    reply = owner_client.post(address("refund_new", job), refund)
    assert reply.status_code == 422
    assert reply.context["form"].errors == {field: [message]}


def test_nothing_paid_is_nothing_to_give_back(owner_client, job):
    reply = owner_client.get(address("refund_new", job), follow=True)
    assert views.NOTHING_TO_GIVE_BACK in reply.text


def test_a_correction_asks_first_and_takes_a_line_back_once(owner_client, job):
    line = took(job, 500_00)
    address_of_it = reverse("payment_correct", args=[line.pk])
    asked = owner_client.get(address_of_it).text
    assert "Nothing is rubbed out" in asked and "$500.00" in asked
    assert owner_client.post(address_of_it, {"note": ""}).status_code == 422
    said = {"note": "It was 50"}
    page = owner_client.post(address_of_it, said, follow=True).text
    assert f"Correction of R-{line.pk:04d}" in page and "taken back" in page
    again = owner_client.post(address_of_it, said, follow=True).text
    assert CORRECTED_ALREADY in again
    assert "taken back already" in owner_client.get(address_of_it).text
    assert PaymentLine.objects.count() == 2


# ---- The list


def test_the_list_says_who_owes_what_by_when_and_how_late(owner_client):
    owing("Late one", from_on=TODAY - timedelta(days=12))
    owing("Coming one")
    paid_too_much = owing("Generous one")
    took(paid_too_much, 600_00)
    reply = owner_client.get(LIST)
    page = reply.text
    assert [account.job.title for account in reply.context["late"]] == ["Late one"]
    assert "Deposit, $293.78 by Monday 1 June 2026 · $587.55 with all the rest" in page
    assert "12 days late" in page and "due today" in page
    assert "$1,175.10 still to come, $293.78 of it late" in page
    assert [account.job for account in reply.context["to_give_back"]] == [paid_too_much]


def test_the_list_teaches_while_it_is_empty_and_rests_when_all_is_paid(owner_client, job):
    schedule_set(job=job, dues=[], source="", now=NOW)
    assert "No money yet" in owner_client.get(LIST).text
    took(job, 10_00)
    assert "All is paid" in owner_client.get(LIST).text


def test_the_list_costs_the_same_however_long_it_is(owner_client, django_assert_max_num_queries):
    for n in range(4):
        owing(f"Job {n}", from_on=TODAY - timedelta(days=n))
    with django_assert_max_num_queries(7):
        owner_client.get(LIST)


def test_the_pages_know_their_methods(owner_client, job):
    line = took(job, 1_00)
    assert owner_client.post(LIST).status_code == 405
    assert owner_client.post(address("money_statement", job)).status_code == 405
    assert owner_client.post(reverse("money_receipt", args=[line.pk])).status_code == 405
    assert owner_client.get(reverse("payment_new", args=[job.pk + 1])).status_code == 404
    assert owner_client.get(reverse("payment_correct", args=[line.pk + 1])).status_code == 404
