"""What a client does reaches the owner at once, whatever comes of it."""

import pytest
from django.core import mail

from decor.letters.service import outbox_send
from decor.models import Business, Letter
from decor.models.letter import LetterKind
from quoting.models import ClientLink
from quoting.promise.service import edition_decline, question_ask
from tests.quoting.promise.accepting import accept, empty_shelf
from tests.quoting.promise.sending import NOW


def notice() -> Letter:
    return Letter.objects.get(kind=LetterKind.NOTICE)


def test_an_acceptance_is_told_to_the_owner_before_it_is_said_back(quote, edition, link, business):
    accept(edition, link=link)
    accept(edition, link=link, typed_name="Somebody Else")
    told = notice()
    assert told.to == business.email
    assert told.subject == f"{quote.job.client.name} accepted quote LL-1042"
    assert "Accepted by Imogen Vale, for $" in told.body and "It is promised" in told.body
    assert told.body.endswith(f"/jobs/{quote.job_id}/")
    assert list(Letter.objects.order_by("pk").values_list("kind", flat=True)) == [
        LetterKind.NOTICE,
        LetterKind.ACCEPTED,
    ]


def test_what_is_short_since_stands_in_the_subject(quote, edition, link):
    empty_shelf()
    answer = accept(edition, link=link)
    said = {"to_buy": "something is to be bought", "to_confirm": "confirm within a day"}
    assert notice().subject.endswith(f"LL-1042: {said[answer.outcome]}")
    assert answer.note in notice().body


def test_a_decline_is_told_with_its_reason_and_a_question_with_its_words(quote, edition, link):
    edition_decline(edition=edition, link=link, reason="The day moved.", address=None, now=NOW)
    assert "declined" in notice().subject and "The day moved." in notice().body
    notice().delete()
    question_ask(
        quote=quote, text="Safe? {client_page}\r\nBcc: all@x.example", typed_name="", now=NOW
    )
    assert "(client_page)" in notice().body
    outbox_send(now=NOW)
    sent = next(one for one in mail.outbox if "asks about" in one.subject)
    assert (sent.message()["Bcc"], sent.recipients()) == (None, [notice().to])
    assert ClientLink.objects.count() == 1  # no secret was made for the words that a client typed


@pytest.mark.parametrize("is_by_hand", [True, False])
def test_nobody_is_told_what_they_entered_or_without_an_address(edition, link, is_by_hand):
    if not is_by_hand:
        Business.objects.update(email="")
    accept(edition, link=None if is_by_hand else link)
    assert not Letter.objects.filter(kind=LetterKind.NOTICE).exists()
