import csv
import io
from datetime import date, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from decor.models import Job, PaymentLine
from decor.models.job import Stage
from decor.models.payment import Means, PaymentKind
from quoting.models import ClientAnswer, Edition, Quote
from quoting.reports.views import REPORTS
from tests.quoting.reports.books import answered, job_at, noon, paid, sent

pytestmark = pytest.mark.django_db
OWN = {"span": "own", "first": "2026-04-01", "last": "2026-05-31"}


@pytest.fixture
def books(business, time_machine):
    time_machine.move_to("2026-06-13T15:00Z", tick=False)
    won = job_at(Stage.PROMISED, title="=cmd|' /C calc'!A0", event_on=date(2026, 7, 1))
    answered(sent(won, noon(date(2026, 4, 10))), noon(date(2026, 4, 10)))
    paid(won, 120_50, date(2026, 4, 11))
    paid(won, -20_25, date(2026, 5, 11))
    sent(job_at(Stage.LOST, why="Too dear"), noon(date(2026, 5, 3)))


def rows_of(reply) -> list[list[str]]:
    return list(csv.reader(io.StringIO(reply.content.decode("utf-8-sig"))))


@pytest.mark.usefixtures("books")
@pytest.mark.parametrize("key", REPORTS)
def test_a_report_has_its_number_a_chart_and_a_table_that_say_the_same(owner_client, key):
    page = owner_client.get(reverse("report", args=[key]), OWN).text
    assert "1 April 2026 to 31 May 2026" in page
    assert page.count("<title") == 2 and "<desc" in page
    assert '<rect class="bar-' in page
    assert '<th scope="row">Apr 2026</th>' in page and "<tfoot>" in page
    assert " style=" not in page


@pytest.mark.usefixtures("books")
def test_all_four_are_on_one_page_and_lead_on_with_the_same_days(owner_client):
    page = owner_client.get(reverse("report_list"), OWN).text
    for key in REPORTS:
        assert f'href="{reverse("report", args=[key])}?span=own&amp;first=' in page
    assert page.count("$100.25") == 2  # came in less refunds; held for July


@pytest.mark.usefixtures("books")
def test_a_csv_says_what_the_table_says_in_plain_numbers(owner_client):
    reply = owner_client.get(reverse("report_csv", args=["money", "months"]), OWN)
    assert reply["Content-Type"].startswith("text/csv")
    assert 'filename="money-months-2026-04-01-2026-05-31.csv"' in reply["Content-Disposition"]
    assert rows_of(reply) == [
        ["Month", "In", "Out", "Net"],
        ["Apr 2026", "120.50", "0.00", "120.50"],
        ["May 2026", "0.00", "20.25", "-20.25"],
        ["Together", "120.50", "20.25", "100.25"],
    ]


@pytest.mark.usefixtures("books")
def test_no_words_in_a_csv_are_run_as_a_formula(owner_client):
    for key in ("held", "margin"):
        rows = rows_of(owner_client.get(reverse("report_csv", args=[key, "jobs"]), OWN))
        assert rows[1][0] == "'=cmd|' /C calc'!A0"


@pytest.mark.parametrize("key", REPORTS)
def test_without_anything_a_report_says_what_will_fill_it(owner_client, key):
    page = owner_client.get(reverse("report", args=[key])).text
    assert 'class="empty"' in page and "<table" not in page


def test_days_that_make_no_sense_are_said_and_stay_as_typed(owner_client):
    typed = {"span": "own", "first": "2026-05-31", "last": "2026-04-01"}
    for name, args in (("report_list", []), ("report", ["money"])):
        reply = owner_client.get(reverse(name, args=args), typed)
        assert reply.status_code == 422
        assert "must not come before" in reply.text and 'value="2026-05-31"' in reply.text


def test_what_is_no_report_is_not_there(owner_client):
    assert owner_client.get(reverse("report", args=["luck"])).status_code == 404
    assert owner_client.get(reverse("report_csv", args=["money", "luck"])).status_code == 404


def questions_asked(browser, key: str) -> int:
    address = reverse("report", args=[key])
    with CaptureQueriesContext(connection) as asked:
        assert browser.get(address, {**OWN, "first": "2021-06-01"}).status_code == 200
    return len(asked)


def five_years_of_quotes() -> None:
    """A job, a quote sent and a payment on each day but every fifth."""
    sample = Edition.objects.first()
    days = [date(2021, 7, 1) + timedelta(days=n) for n in range(5 * 365) if n % 5]
    jobs = Job.objects.bulk_create(
        Job(client=sample.quote.job.client, title=f"{day}", event_on=day, stage=Stage.DONE)
        for day in days
    )
    quotes = Quote.objects.bulk_create(
        Quote(number=f"Y-{job.pk}", job=job, rate_card=sample.rate_card, expires_on=job.event_on)
        for job in jobs
    )
    editions = Edition.objects.bulk_create(copied(sample, quote) for quote in quotes)
    ClientAnswer.objects.bulk_create(
        copied(ClientAnswer.objects.first(), edition) for edition in editions
    )
    PaymentLine.objects.bulk_create(
        PaymentLine(
            job=job,
            kind=PaymentKind.PAYMENT,
            amount_cents=100_00 + job.pk,
            means=Means.CARD,
            on=job.event_on,
            at=noon(job.event_on),
        )
        for job in jobs
    )


def copied(row: Edition | ClientAnswer, of: Quote | Edition) -> Edition | ClientAnswer:
    """Of another quote or edition, on the day of its event."""
    same = {
        field.attname: getattr(row, field.attname)
        for field in row._meta.concrete_fields
        if field.name != "id"
    }
    if isinstance(of, Quote):
        return Edition(**{**same, "quote_id": of.pk, "sent_at": noon(of.job.event_on)})
    return ClientAnswer(**{**same, "edition_id": of.pk, "at": of.sent_at})


def test_five_years_take_no_more_questions_than_one_job(owner_client, books):
    few = {key: questions_asked(owner_client, key) for key in REPORTS}
    five_years_of_quotes()
    assert {key: questions_asked(owner_client, key) for key in REPORTS} == few
    assert max(few.values()) <= 12
