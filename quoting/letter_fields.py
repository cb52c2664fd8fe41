"""The fields of a letter that quotes know of, and the PDF that goes with a quote."""

from datetime import datetime

from decor.display import date_text, money_text
from decor.letters.attachments import Offer
from decor.letters.attachments import register as register_attachment
from decor.letters.fields import Minted, register, register_late
from decor.models import Job
from decor.models.letter import LetterKind
from quoting.client_page.links import client_page_url, link_make, link_revoke
from quoting.models import ClientAnswer, ClientQuestion, Edition
from quoting.models.client_page import AnswerKind, Outcome

NO_QUOTE_YET = (
    "This letter leads to the client's page, and no quote is made ready for this job yet. Send "
    "one first, or take {client_page} out."
)
KEPT_BY_DEPOSIT = "Your day is kept from the moment your first payment has arrived."
I_CONFIRM = (
    "I now look once more at the day and at everything I need for it, and confirm within a day. "
    "Please pay nothing until then."
)
ANOTHER_TIME = (
    "While you were choosing, the time you need was promised to somebody else. I get in touch "
    "within a day, to see what else is possible. Please pay nothing until then."
)
NEXT = {
    Outcome.HELD: KEPT_BY_DEPOSIT,
    Outcome.TO_BUY: KEPT_BY_DEPOSIT,
    Outcome.TO_CONFIRM: I_CONFIRM,
    Outcome.TIME_TAKEN: ANOTHER_TIME,
}


def register_quote_fields() -> None:
    register("quote_number", "The quote's number", _number, otherwise="your quote")
    register("total", "What it comes to in all, tax included", _total, otherwise="as agreed")
    register(
        "good_until",
        "The last day on which the quote can be accepted",
        _good_until,
        otherwise="the day we agree on",
    )
    register("what_next", "What happens after they accepted", _what_next)
    register("question", "The question the client asked last", _question)
    register_late(
        "client_page",
        "The private address of the client's page, made anew as the letter goes",
        missing=lambda job: "" if edition_meant(job) else NO_QUOTE_YET,
        mint=_page_minted,
    )
    register_attachment(LetterKind.QUOTE, quote_pdf)


def edition_meant(job: Job) -> Edition | None:
    """The one the client accepted; else the one sent last."""
    editions = Edition.objects.defer("pdf").select_related("quote").filter(quote__job=job)
    accepted = editions.filter(answers__kind=AnswerKind.ACCEPTED).order_by("-answers__at").first()
    return accepted or editions.order_by("-sent_at", "-pk").first()


def quote_pdf(job: Job) -> Offer | None:
    edition = edition_meant(job)
    if edition is None:
        return None
    name = f"{edition.quote.number}-edition-{edition.number}.pdf"
    return Offer(name, "application/pdf", lambda: bytes(edition.pdf))


def _number(job: Job) -> str:
    edition = edition_meant(job)
    return edition.quote.number if edition else ""


def _total(job: Job) -> str:
    edition = edition_meant(job)
    if edition is None:
        return ""
    answer = _acceptance(job)
    total = answer.total_cents if answer else edition.total_cents
    return money_text(total, edition.currency)


def _good_until(job: Job) -> str:
    edition = edition_meant(job)
    return date_text(edition.expires_on) if edition else ""


def _what_next(job: Job) -> str:
    answer = _acceptance(job)
    if answer is None:
        return ""
    return NEXT[Outcome(answer.outcome)]


def _acceptance(job: Job) -> ClientAnswer | None:
    answers = ClientAnswer.objects.filter(edition__quote__job=job, kind=AnswerKind.ACCEPTED)
    return answers.order_by("at", "pk").last()


def _question(job: Job) -> str:
    asked = ClientQuestion.objects.filter(quote__job=job).order_by("asked_at", "pk").last()
    return asked.text if asked else ""


def _page_minted(job: Job, now: datetime) -> Minted:
    link, token = link_make(quote=edition_meant(job).quote, by=None, now=now)
    return Minted(client_page_url(token), lambda: link_revoke(link=link, now=now))
