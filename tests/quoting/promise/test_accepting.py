from datetime import UTC, date, datetime, timedelta
from math import ceil

import pytest
from django.db import IntegrityError, transaction

from decor.display import hours_text
from decor.models import CrewMember, Job, Letter
from decor.models.job import Stage
from decor.models.visit import VisitKind
from inventory.kit.service import kit_hold
from inventory.models import Item, Kit, Need, SupplierBag
from quoting.client_page.links import link_make, link_revoke
from quoting.covering.demand import quote_demand
from quoting.estimator.planning import STEP_MINUTES
from quoting.models import ClientAnswer, Edition
from quoting.models.client_page import AnswerKind, Outcome
from quoting.models.quote import QuoteStage
from quoting.promise.asked import edition_demand, hours_asked
from quoting.promise.promising import ANOTHER_DAY
from quoting.promise.service import AnswerRefused, edition_decline
from quoting.promise.states import PageState
from quoting.quotes.combinations import NotOnOffer
from quoting.quotes.pricing import quote_priced
from tests.factories import JobFactory, PieceFactory, QuoteFactory, SupplierFactory, arch_spec
from tests.quoting.promise.accepting import (
    NEW_YORK,
    NOTHING,
    accept,
    empty_shelf,
    held,
    promised,
)
from tests.quoting.promise.sending import NOW, TODAY, sent
from tests.quoting.quotes.sending import widen
from tests.quoting.quotes.variants import with_variants

# ---- Everything is there ----


def test_what_a_client_accepts_is_promised_in_one_breath(quote, edition, link):
    job = quote.job
    answer = accept(edition, link=link)

    assert (answer.outcome, answer.kind) == (Outcome.HELD, AnswerKind.ACCEPTED)
    assert held(job) == edition_demand(edition, {}).quantities
    dues = job.dues.order_by("pk").values_list("kind", "due_on", "amount_cents", "source")
    assert sum(due[2] for due in dues) == edition.total_cents == answer.total_cents
    assert (dues[0][0], dues[0][1]) == ("deposit", TODAY)
    assert {due[3] for due in dues} == {"LL-1042, edition 1"}
    quote.refresh_from_db()
    assert quote.stage == QuoteStage.ACCEPTED
    move = Job.objects.get(pk=job.pk).stage_moves.get()
    assert (move.to_stage, move.moved_by) == (Stage.PROMISED, None)
    assert move.reason == "The client accepted edition 1 of LL-1042"


def test_the_answer_says_who_when_from_where_and_to_what(edition, link):
    answer = accept(edition, link=link)
    assert answer.typed_name == "Imogen Vale"
    assert (answer.at, answer.timezone) == (NOW, "America/New_York")
    assert (answer.address, answer.link) == ("192.0.2.7", link)
    assert answer.pdf_sha256 == edition.pdf_sha256
    assert (answer.net_cents, answer.tax_cents) == (edition.net_cents, edition.tax_cents)


def test_the_days_are_planned_by_the_hours_of_the_edition(quote, edition):
    accept(edition)
    hours = hours_asked(edition, {})
    install = quote.job.visits.get(kind=VisitKind.INSTALL)
    assert install.ends_at == datetime(2026, 6, 20, 13, 0, tzinfo=NEW_YORK)  # an hour before
    assert install.ends_at - install.starts_at == timedelta(minutes=hours.install_minutes)
    strike = quote.job.visits.get(kind=VisitKind.STRIKE)
    assert strike.starts_at == datetime(2026, 6, 21, 10, 0, tzinfo=NEW_YORK)
    session = quote.job.making_sessions.get()
    whole_steps = STEP_MINUTES * ceil(hours.making_minutes / STEP_MINUTES)
    assert (session.on, session.minutes) == (date(2026, 6, 19), whole_steps)
    assert "Sunday 21 June 2026 at 10 a.m." in ClientAnswer.objects.get().note


def test_the_client_gets_the_pdf_they_saw_by_mail(edition):
    answer = accept(edition)
    letter = Letter.objects.get()
    assert letter.to == "reading@wexcombebay.example"
    assert letter.entry_key == f"answer-{answer.pk}"
    assert letter.attachment_name == "LL-1042-edition-1.pdf"
    assert bytes(letter.attachment) == bytes(Edition.objects.get().pdf)


def test_the_second_time_is_the_same_receipt_whoever_comes(quote, edition):
    first = accept(edition)
    before = promised(quote.job)
    again = accept(edition, typed_name="Someone Else", now=NOW + timedelta(minutes=1))
    assert again == first and again.typed_name == "Imogen Vale"
    assert promised(quote.job) == before
    assert (ClientAnswer.objects.count(), Letter.objects.count()) == (1, 1)


def test_the_database_itself_keeps_one_answer_of_an_edition(edition):
    answer = accept(edition)
    answer.pk, answer._state.adding = None, True
    with pytest.raises(IntegrityError), transaction.atomic():
        answer.save()


def test_a_draft_that_changed_since_is_none_of_the_clients_business(quote, edition):
    widen(quote, 6.0)
    accept(edition)
    assert held(quote.job) == edition_demand(edition, {}).quantities
    quote.refresh_from_db()
    assert quote.stage == QuoteStage.CHANGED


def test_an_edition_takes_what_its_quote_did_when_it_was_sent(quote):
    """Against the estimator's own words of the same quote, with its variants and without."""
    with_variants(quote)
    edition = sent(quote)
    live = quote_demand(quote_priced(quote, today=TODAY))
    frozen = edition_demand(edition, {1: quote.pieces.get(counts=True).pk})
    assert (frozen.quantities, frozen.no_items) == (live.quantities, live.no_items)


# ---- Choosing ----


def test_the_variant_that_was_chosen_is_what_is_held_owed_and_counted(quote):
    first, fuller, _ = with_variants(quote)
    edition = sent(quote)
    answer = accept(edition, chosen={first.choice: fuller.pk})

    option = next(one for one in edition.result["variants"] if one["id"] == fuller.pk)
    assert answer.chosen == {str(first.choice): fuller.pk}
    assert answer.total_cents == option["total_cents"] > edition.total_cents
    assert sum(quote.job.dues.values_list("amount_cents", flat=True)) == answer.total_cents
    assert held(quote.job) == edition_demand(edition, {first.choice: fuller.pk}).quantities
    fuller.refresh_from_db()
    quote.refresh_from_db()
    assert (fuller.counts, quote.stage) == (True, QuoteStage.ACCEPTED)


def test_what_is_not_on_offer_is_not_accepted(quote):
    first, *_ = with_variants(quote)
    other = PieceFactory()
    edition = sent(quote)
    for chosen in ({}, {first.choice: other.pk}, {first.choice + 1: first.pk}):
        with pytest.raises(NotOnOffer):
            accept(edition, chosen=chosen)
    assert not ClientAnswer.objects.exists()
    assert promised(quote.job) == NOTHING


# ---- The shelf has changed since it was sent ----


def test_what_can_still_be_bought_in_time_is_bought_and_promised(quote, edition):
    empty_shelf()
    supplier = SupplierFactory(lead_days=2)
    for item in Item.objects.all():
        SupplierBag.objects.create(supplier=supplier, item=item, bag_count=100, bag_cents=1650)
    answer = accept(edition)
    assert answer.outcome == Outcome.TO_BUY
    assert answer.note.startswith("To buy: ")
    needs = dict(Need.objects.filter(job=quote.job).values_list("item", "quantity"))
    assert needs == held(quote.job) == edition_demand(edition, {}).quantities
    assert Job.objects.get(pk=quote.job_id).stage == Stage.PROMISED


@pytest.mark.parametrize("lead_days", [None, 7])
def test_what_cannot_be_had_in_time_is_not_promised(quote, edition, lead_days):
    """Nobody sells it, or whoever does brings it too late."""
    empty_shelf()
    if lead_days:
        supplier = SupplierFactory(lead_days=lead_days)
        for item in Item.objects.all():
            SupplierBag.objects.create(supplier=supplier, item=item, bag_count=100, bag_cents=9)
    answer = accept(edition)
    assert answer.outcome == Outcome.TO_CONFIRM
    assert ("cannot be here before" if lead_days else "No supplier") in answer.note
    assert promised(quote.job) == NOTHING
    assert not Need.objects.exists()
    quote.refresh_from_db()
    assert (Job.objects.get(pk=quote.job_id).stage, quote.stage) == (
        Stage.QUOTED,
        QuoteStage.ACCEPTED,
    )


# ---- Kit and day ----


def test_without_the_ladder_it_needs_it_is_not_promised(quote):
    """An arch whose top is above what is reached from the floor; the only ladder is out."""
    quote.pieces.update(spec=arch_spec(width_m=4.0, height_m=3.4))
    edition = sent(quote)
    ladder = Kit.objects.create(name="Ladder, 3 m", kind="ladder", count=1)
    other = JobFactory(title="Regatta arch", stage="promised")
    day = date(2026, 6, 20)
    kit_hold(job=other, kit=ladder, quantity=1, from_on=day, until_on=day, now=NOW)
    answer = accept(edition)
    assert (answer.outcome, promised(quote.job)) == (Outcome.TO_CONFIRM, NOTHING)
    assert "It needs a ladder" in answer.note


def test_a_day_that_moved_since_is_not_the_one_that_was_accepted(quote, edition):
    Job.objects.filter(pk=quote.job_id).update(event_on=date(2026, 6, 27))
    answer = accept(edition)
    assert (answer.outcome, promised(quote.job)) == (Outcome.TO_CONFIRM, NOTHING)
    assert answer.note == ANOTHER_DAY.format(number=1)


# ---- Its time ----


def test_a_time_that_was_taken_meanwhile_is_not_promised_twice(quote, edition, another_install):
    answer = accept(edition)
    assert answer.outcome == Outcome.TIME_TAKEN
    assert "Library porch" in answer.note
    assert promised(quote.job) == NOTHING
    assert Job.objects.get(pk=quote.job_id).stage == Stage.QUOTED


def test_without_hands_enough_it_is_not_said_that_somebody_else_came_first(quote):
    quote.pieces.update(spec=quote.pieces.get().spec | {"site": {}, "crew": 2})
    answer = accept(sent(quote))
    assert answer.outcome == Outcome.TO_CONFIRM
    assert "2 people are needed" in answer.note
    assert promised(quote.job) == NOTHING


def test_a_bench_without_hours_left_is_for_the_owner_to_judge(quote, edition):
    accept_one = CrewMember.objects.create(name="Nell", role="owner", making_minutes_a_day=10)
    answer = accept(edition)
    needed = hours_text(hours_asked(edition, {}).making_minutes / 60)
    assert accept_one.making_minutes_a_day < STEP_MINUTES
    assert answer.outcome == Outcome.TO_CONFIRM
    assert f"{needed} of that do not fit at the bench" in answer.note
    assert promised(quote.job) == NOTHING


def test_without_an_hour_the_day_itself_must_have_hours_left(quote):
    Job.objects.filter(pk=quote.job_id).update(event_time=None)
    edition = sent(quote)
    nell = CrewMember.objects.create(name="Nell", role="owner", install_minutes_a_day=0)
    assert accept(edition).outcome == Outcome.TO_CONFIRM
    assert promised(quote.job) == NOTHING
    nell.install_minutes_a_day = 600
    nell.save()
    widen(quote)
    answer = accept(sent(quote))
    assert answer.outcome == Outcome.HELD
    assert "plan the install by hand" in answer.note
    assert not quote.job.visits.exists()


def test_making_spills_over_into_the_days_before(quote, edition):
    CrewMember.objects.create(name="Nell", role="owner", making_minutes_a_day=STEP_MINUTES)
    assert STEP_MINUTES < hours_asked(edition, {}).making_minutes <= 2 * STEP_MINUTES
    accept(edition)
    sessions = dict(quote.job.making_sessions.values_list("on", "minutes"))
    assert sessions == {date(2026, 6, 19): STEP_MINUTES, date(2026, 6, 18): STEP_MINUTES}


def test_an_install_that_should_have_begun_is_not_promised(quote):
    quote.expires_on = date(2026, 6, 20)
    quote.save()
    edition = sent(quote)
    answer = accept(edition, now=datetime(2026, 6, 20, 12, 55, tzinfo=NEW_YORK))
    assert (answer.outcome, promised(quote.job)) == (Outcome.TO_CONFIRM, NOTHING)


# ---- What cannot be answered any more ----


def refused(edition: Edition, **said) -> PageState:
    with pytest.raises(AnswerRefused) as refused:
        accept(edition, **said)
    job = Job.objects.get(pk=edition.quote.job_id)
    assert promised(job) == NOTHING
    return refused.value.state


def test_an_edition_is_good_until_the_end_of_its_last_day_where_the_business_is(quote, edition):
    last_minute = datetime(2026, 6, 19, 23, 59, tzinfo=NEW_YORK)
    assert last_minute.astimezone(UTC).date() == date(2026, 6, 20)
    midnight = last_minute + timedelta(minutes=1)
    assert refused(edition, now=midnight) == PageState.EXPIRED
    assert accept(edition, now=last_minute).at == last_minute


def test_an_edition_that_was_replaced_cannot_be_accepted(quote, edition):
    widen(quote)
    second = sent(quote)
    assert refused(edition) == PageState.REPLACED
    assert accept(second).edition == second


def test_a_link_that_was_revoked_or_has_ended_accepts_nothing(quote, edition, link):
    link_revoke(link=link, now=NOW)
    assert refused(edition, link=link) == PageState.REVOKED
    other, _ = link_make(quote=quote, by=None, now=NOW)
    late = datetime(2026, 7, 5, 0, 0, tzinfo=NEW_YORK)
    assert refused(edition, link=other, now=late) == PageState.ENDED


@pytest.mark.parametrize("stage", ["lost", "let_go", "called_off", "up", "done"])
def test_a_job_that_has_ended_or_hangs_already_accepts_nothing(quote, edition, stage):
    Job.objects.filter(pk=quote.job_id).update(stage=stage)
    assert refused(edition) == PageState.CLOSED


def test_of_two_quotes_for_one_job_one_is_accepted(quote, edition):
    other = QuoteFactory(job=quote.job, rate_card=quote.rate_card)
    PieceFactory(quote=other)
    other_edition = sent(other)
    accept(edition)
    with pytest.raises(AnswerRefused) as refused:
        accept(other_edition)
    assert refused.value.state == PageState.OTHER_ACCEPTED


# ---- Declining ----


def test_a_decline_keeps_its_reason_and_moves_no_job(quote, edition, link):
    answer = edition_decline(
        edition=edition, link=link, reason="The day has moved.", address="192.0.2.7", now=NOW
    )
    assert (answer.kind, answer.reason, answer.outcome) == ("declined", "The day has moved.", "")
    quote.refresh_from_db()
    assert (quote.stage, quote.job.stage) == (QuoteStage.DECLINED, Stage.QUOTED)
    assert sorted(Letter.objects.values_list("kind", flat=True)) == ["declined", "notice"]
    assert refused(edition) == PageState.DECLINED


def test_after_an_acceptance_nothing_is_declined(edition):
    accept(edition)
    with pytest.raises(AnswerRefused) as refused:
        edition_decline(edition=edition, link=None, reason="No", address=None, now=NOW)
    assert refused.value.state == PageState.ACCEPTED


def test_what_was_declined_can_be_sent_again_as_it_is(quote, edition):
    edition_decline(edition=edition, link=None, reason="No", address=None, now=NOW)
    assert accept(sent(quote)).edition.number == 2


# ---- The next edition ----


def test_the_next_edition_takes_the_place_of_the_one_that_was_promised(quote, edition):
    accept(edition)
    widen(quote, 3.0)
    second = sent(quote)
    answer = accept(second)
    assert answer.outcome == Outcome.HELD
    assert held(quote.job) == edition_demand(second, {}).quantities
    owed = quote.job.dues.filter(replaced_at=None).values_list("amount_cents", flat=True)
    assert sum(owed) == second.total_cents
    assert quote.job.visits.filter(called_off_at=None).count() == 2


def test_another_day_in_the_next_edition_moves_what_was_planned(quote, edition):
    accept(edition)
    Job.objects.filter(pk=quote.job_id).update(event_on=date(2026, 6, 27))
    accept(sent(quote))
    install = quote.job.visits.get(kind=VisitKind.INSTALL, called_off_at=None)
    assert install.ends_at == datetime(2026, 6, 27, 13, 0, tzinfo=NEW_YORK)
    sessions = quote.job.making_sessions.filter(called_off_at=None)
    assert [session.on for session in sessions] == [date(2026, 6, 26)]
    strike = quote.job.visits.get(kind=VisitKind.STRIKE, called_off_at=None)
    assert strike.starts_at == datetime(2026, 6, 28, 10, 0, tzinfo=NEW_YORK)
