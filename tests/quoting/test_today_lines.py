"""What quotes, making and visits put on the owner's first page."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.urls import reverse
from django.utils import timezone

from decor.models import MakingSession, Visit
from decor.models.letter import LetterKind
from decor.today.sources import Deed, TodayLine, lines_between
from quoting.models import ClientQuestion
from tests.decor.letters.conftest import letter_in_outbox
from tests.factories import JobFactory, QuoteFactory
from tests.quoting.plain_editions import answered, plain_edition

NOW = datetime(2026, 6, 13, 16, 0, tzinfo=UTC)
TODAY = date(2026, 6, 13)
LAST = TODAY + timedelta(days=13)


@pytest.fixture(autouse=True)
def noon(business, time_machine):
    time_machine.move_to(NOW, tick=False)
    with timezone.override(ZoneInfo(business.timezone)):
        yield


def lines(*deeds: Deed) -> list[TodayLine]:
    return [line for line in lines_between(TODAY, LAST) if line.kind in deeds]


def visit(job, kind: str, on: date, **changes) -> Visit:
    starts_at = datetime(on.year, on.month, on.day, 13, tzinfo=UTC)
    return Visit.objects.create(
        job=job,
        kind=kind,
        starts_at=starts_at,
        ends_at=starts_at + timedelta(hours=2),
        changed_at=NOW,
        **changes,
    )


def test_visits_stand_on_their_day_by_the_clock_of_the_business():
    job = JobFactory(stage="made")
    install = visit(job, "install", date(2026, 6, 20))
    visit(job, "strike", date(2026, 6, 21))
    visit(JobFactory(stage="promised"), "install", LAST + timedelta(days=1))
    hang, take_down = lines(Deed.INSTALL, Deed.STRIKE)
    assert hang.text == "Reading-week arch at Library porch, 9 a.m. to 11 a.m."
    assert hang.url == reverse("visit_page", args=[install.pk])
    assert (hang.on, take_down.on) == (date(2026, 6, 20), date(2026, 6, 21))
    assert take_down.kind == Deed.STRIKE


def test_a_visit_that_nobody_ticked_off_is_late_and_one_that_is_over_is_no_work():
    late = visit(JobFactory(stage="promised"), "install", date(2026, 6, 11))
    visit(JobFactory(stage="up"), "install", date(2026, 6, 11))
    visit(JobFactory(stage="promised"), "install", date(2026, 6, 11), done_at=NOW)
    visit(JobFactory(stage="called_off"), "install", date(2026, 6, 20))
    visit(JobFactory(stage="promised"), "strike", date(2026, 6, 20), called_off_at=NOW)
    (line,) = [line for line in lines(*Deed) if "/sheet/" in line.url]
    assert line.is_late
    assert "was planned for Thursday 11 June 2026: is it done?" in line.text
    assert str(late.pk) in line.url


def test_the_day_before_an_install_its_client_is_told_once():
    job = JobFactory(stage="made")
    visit(job, "install", date(2026, 6, 14))
    (line,) = lines(Deed.LETTER)
    assert line.on == TODAY
    assert line.url == reverse("letter_new", args=[job.pk, LetterKind.DAY_BEFORE.value])
    letter_in_outbox(job, kind=LetterKind.DAY_BEFORE)
    assert lines(Deed.LETTER) == []


def test_planned_hours_are_made_on_their_day_and_without_any_on_the_day_before_the_event():
    planned, other = JobFactory(stage="promised"), JobFactory(stage="promised", title="Swag")
    for on in (date(2026, 6, 12), date(2026, 6, 18)):
        MakingSession.objects.create(job=planned, on=on, minutes=150, changed_at=NOW)
    late, hours, whole = lines(Deed.MAKE)
    assert (late.is_late, late.on) == (True, date(2026, 6, 12))
    assert hours.text == "Reading-week arch: 2 h 30 min at the bench"
    assert (whole.text, whole.on, whole.job) == ("Swag", date(2026, 6, 19), other)


def test_a_promised_job_that_nobody_planned_to_hang_is_told():
    job = JobFactory(stage="promised")
    JobFactory(stage="promised", event_on=date(2026, 6, 10), title="Gone")
    (hang,) = lines(Deed.INSTALL)
    (gone,) = [line for line in lines(Deed.CONFIRM) if "how did it go?" in line.text]
    assert hang.text == "Reading-week arch: no install is planned yet"
    assert hang.url == reverse("visit_new", args=[job.pk, "install"])
    assert gone.is_late


def test_a_quote_that_waits_is_chased_on_its_last_day_by_its_newest_edition():
    quote = QuoteFactory(job=JobFactory(stage="quoted"), stage="sent", number="LL-1042")
    plain_edition(quote, expires_on=date(2026, 6, 15))
    plain_edition(quote, expires_on=date(2026, 6, 19), number=2)
    over = QuoteFactory(job=JobFactory(stage="quoted"), stage="sent", number="LL-1043")
    plain_edition(over, expires_on=date(2026, 6, 12))
    said_yes = QuoteFactory(job=JobFactory(stage="quoted"), stage="accepted")
    plain_edition(said_yes, expires_on=date(2026, 6, 19))
    late, waiting = lines(Deed.CHASE)
    assert late.text == "LL-1043 for Reading-week arch ended without an answer"
    assert waiting.text == "LL-1042 for Reading-week arch is good until this day"
    assert waiting.on == date(2026, 6, 19)
    assert (late.is_late, waiting.is_late) == (True, False)


def test_an_enquiry_without_a_quote_is_told_from_the_day_it_came():
    JobFactory()
    (line,) = lines(Deed.QUOTE)
    assert line.text == "Reading-week arch: asked today, no quote sent yet"
    assert line.on == TODAY


def test_an_acceptance_that_could_not_be_kept_at_once_is_confirmed_within_a_day():
    for at, stage, outcome in (
        (NOW, "quoted", "to_confirm"),
        (NOW - timedelta(days=3), "quoted", "time_taken"),
        (NOW, "promised", "to_confirm"),
        (NOW, "quoted", "held"),
    ):
        quote = QuoteFactory(job=JobFactory(stage=stage), stage="accepted")
        answered(plain_edition(quote), at=at, outcome=outcome)
    late, fresh = [line for line in lines(Deed.CONFIRM) if "accepted" in line.text]
    assert (late.is_late, fresh.is_late) == (True, False)
    assert "Wexcombe Bay Library accepted" in fresh.text


def test_a_quote_that_was_declined_is_told_until_the_job_moves_or_something_new_is_sent():
    for number, stage in (("LL-1042", "quoted"), ("LL-1043", "lost"), ("LL-1044", "quoted")):
        quote = QuoteFactory(job=JobFactory(stage=stage), stage="declined", number=number)
        answered(plain_edition(quote), kind="declined", outcome="", typed_name="")
    plain_edition(quote, number=2)
    (line,) = [line for line in lines(Deed.DECIDE) if "declined" in line.text]
    assert line.text.startswith("Wexcombe Bay Library declined LL-1042:")


def test_a_question_waits_until_it_is_answered():
    quote = QuoteFactory(job=JobFactory(stage="quoted"))
    ClientQuestion.objects.create(quote=quote, text="Is it\nsafe? " + "Really? " * 20, asked_at=NOW)
    ClientQuestion.objects.create(quote=quote, text="Old", asked_at=NOW, answered_at=NOW)
    (line,) = lines(Deed.ANSWER)
    assert line.text.startswith("Wexcombe Bay Library asks: Is it safe? Really?")
    assert len(line.text) < 125


def test_every_line_leads_to_a_page(owner_client):
    job = JobFactory(stage="promised")
    visit(job, "install", date(2026, 6, 14))
    MakingSession.objects.create(job=job, on=date(2026, 6, 13), minutes=60, changed_at=NOW)
    quote = QuoteFactory(job=JobFactory(stage="quoted"), stage="sent")
    plain_edition(quote, expires_on=date(2026, 6, 19))
    ClientQuestion.objects.create(quote=quote, text="Is it safe?", asked_at=NOW)
    JobFactory()
    found = {line.url.partition("#")[0] for line in lines_between(TODAY, LAST)}
    assert len(found) >= 5
    for url in found:
        assert owner_client.get(url).status_code == 200, url
