from datetime import datetime, timedelta

import pytest

from decor.calendar.visits import visit_plan
from decor.jobs.stages import ALREADY_THERE, MoveRefused
from decor.models import Job, Letter
from decor.models.job import Stage
from decor.models.visit import VisitKind
from quoting.models import ClientAnswer
from quoting.models.client_page import Outcome
from quoting.models.quote import QuoteStage
from quoting.promise.asked import edition_demand
from quoting.promise.by_hand import (
    BY_HAND,
    SEND_FIRST,
    WAS_DECLINED,
    is_to_be_confirmed,
    said_yes,
)
from quoting.promise.refusal import NotPromised
from quoting.promise.service import edition_decline
from quoting.promise.states import is_promised
from tests.factories import JobFactory
from tests.quoting.promise.accepting import (
    NEW_YORK,
    NOTHING,
    accept,
    empty_shelf,
    held,
    promised,
)
from tests.quoting.promise.sending import NOW, sent
from tests.quoting.quotes.sending import widen
from tests.quoting.quotes.variants import with_variants


def test_a_yes_on_the_phone_goes_the_way_of_a_yes_on_the_page(quote, edition, owner):
    said_yes(quote=quote, by=owner, now=NOW)
    answer = ClientAnswer.objects.get()
    assert (answer.link, answer.address, answer.typed_name) == (None, None, quote.job.client.name)
    assert answer.outcome == Outcome.HELD and answer.note.startswith(BY_HAND)
    assert held(quote.job) == edition_demand(edition, {}).quantities
    move = Job.objects.get().stage_moves.get()
    assert (move.to_stage, move.moved_by) == (Stage.PROMISED, owner)
    assert not Letter.objects.exists(), "nothing is sent that the client did not do"


def test_a_second_press_says_that_it_is_promised(quote, edition, owner):
    said_yes(quote=quote, by=owner, now=NOW)
    with pytest.raises(MoveRefused, match=ALREADY_THERE):
        said_yes(quote=quote, by=owner, now=NOW)
    assert ClientAnswer.objects.count() == 1


def test_what_counts_in_the_draft_is_what_the_client_named(quote, owner):
    first, fuller, _ = with_variants(quote)
    edition = sent(quote)
    first.counts, fuller.counts = False, True
    first.save()
    fuller.save()
    said_yes(quote=quote, by=owner, now=NOW)
    answer = ClientAnswer.objects.get()
    assert answer.chosen == {str(first.choice): fuller.pk}
    assert answer.total_cents > edition.total_cents
    quote.refresh_from_db()
    assert quote.stage == QuoteStage.ACCEPTED


def test_what_changed_since_it_was_sent_is_sent_first(quote, edition, owner):
    widen(quote)
    with pytest.raises(MoveRefused, match=SEND_FIRST.format(quote="LL-1042", number=1)):
        said_yes(quote=quote, by=owner, now=NOW)
    assert (promised(quote.job), ClientAnswer.objects.count()) == (NOTHING, 0)


def test_what_was_declined_is_sent_again_first(quote, edition, owner):
    edition_decline(edition=edition, link=None, reason="No", address=None, now=NOW)
    with pytest.raises(MoveRefused, match=WAS_DECLINED.format(number=1)):
        said_yes(quote=quote, by=owner, now=NOW)


def test_the_owner_confirms_what_could_not_be_promised_at_once(
    quote,
    edition,
    owner,
    another_install,
):
    answer = accept(edition)
    assert is_to_be_confirmed(quote) == answer and not is_promised(answer)
    with pytest.raises(NotPromised, match="Library porch") as refused:
        said_yes(quote=quote, by=owner, now=NOW)
    assert refused.value.can_be_overruled
    assert promised(quote.job) == NOTHING

    said_yes(quote=quote, overruled="Tomas hangs the other one", by=owner, now=NOW)
    install = quote.job.visits.get(kind=VisitKind.INSTALL)
    assert install.overruled_reason == "Tomas hangs the other one"
    answer = ClientAnswer.objects.get()
    assert answer.outcome == Outcome.TIME_TAKEN, "what was said stays as it was said"
    assert is_promised(answer)
    quote.job.refresh_from_db()
    assert is_to_be_confirmed(quote) is None


def test_no_reason_makes_balloons_that_are_not_there(quote, edition, owner):
    empty_shelf()
    accept(edition)
    with pytest.raises(NotPromised, match="buy list first") as refused:
        said_yes(quote=quote, overruled="It will do", by=owner, now=NOW)
    assert not refused.value.can_be_overruled
    assert promised(quote.job) == NOTHING


def test_a_later_edition_waits_to_be_confirmed_beside_the_promise_there_is(quote, edition, owner):
    accept(edition)
    quote.job.refresh_from_db()
    Job.objects.filter(pk=quote.job_id).update(event_on="2026-06-27")
    at = datetime(2026, 6, 27, 12, 0, tzinfo=NEW_YORK)
    visit_plan(
        job=JobFactory(stage="promised"),
        kind=VisitKind.INSTALL,
        starts_at=at,
        ends_at=at + timedelta(hours=1),
        now=NOW,
    )
    second = sent(quote)
    before = held(quote.job)
    answer = accept(second, now=NOW + timedelta(hours=1))
    assert answer.outcome == Outcome.TIME_TAKEN
    assert held(quote.job) == before
    quote.job.refresh_from_db()
    assert not is_promised(answer) and is_to_be_confirmed(quote) == answer
    said_yes(quote=quote, overruled="Yes", by=owner, now=NOW + timedelta(hours=2))
    assert is_promised(ClientAnswer.objects.get(pk=answer.pk))


def test_a_promise_that_is_taken_back_is_none(quote, edition):
    answer = accept(edition)
    Job.objects.filter(pk=quote.job_id).update(stage="quoted")
    assert not is_promised(ClientAnswer.objects.get(pk=answer.pk))


def test_a_quote_that_was_never_sent_is_promised_as_it_stands(quote, owner):
    said_yes(quote=quote, by=owner, now=NOW)
    assert Job.objects.get().stage == Stage.PROMISED
    assert held(quote.job) and not ClientAnswer.objects.exists()
