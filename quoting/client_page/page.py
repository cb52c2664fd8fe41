"""All that a client's page shows. Templates do no sums and look nothing up."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.urls import reverse
from django.utils import timezone

from decor.calendar.capacity import window_text
from decor.calendar.moments import local_day
from decor.display import date_text, money_text
from decor.models import Business, Visit
from decor.models.job import Stage
from decor.models.payment import DueKind
from decor.models.visit import VisitKind
from decor.payments.account import Account, account_of
from quoting.client_page.document import edition_document
from quoting.client_page.forms import AcceptForm, AskForm, DeclineForm
from quoting.models import ClientAnswer, ClientLink, ClientQuestion, Edition, Quote
from quoting.models.client_page import AnswerKind, Outcome
from quoting.promise.asked import hours_asked
from quoting.promise.days import time_is_taken
from quoting.promise.states import PageState, accepted_elsewhere, edition_state, is_promised
from quoting.quotes.combinations import (
    Chosen,
    NotOnOffer,
    counted_choice,
    frozen_choices,
    frozen_combination,
)
from quoting.quotes.payments import PaymentPlan, dues_of

WHEN_YOU_ACCEPT = "when you accept"
DUE_NAMES = {
    DueKind.DEPOSIT: "Deposit",
    DueKind.BALANCE: "Balance",
    DueKind.WHOLE: "To pay in full",
}
# A question can still be asked where nothing can be accepted.
MAY_ASK = frozenset(
    {
        PageState.OPEN,
        PageState.ACCEPTED,
        PageState.DECLINED,
        PageState.EXPIRED,
        PageState.TIME_TAKEN,
        PageState.OTHER_ACCEPTED,
    }
)


@dataclass(frozen=True, kw_only=True)
class ShownDue:
    name: str
    text: str
    when: str
    is_paid: bool = False


@dataclass(frozen=True, kw_only=True)
class ShownTotal:
    """What a choice comes to; `key` tells which choice the client has seen it for."""

    key: str
    total: str
    dues: tuple[ShownDue, ...]


@dataclass(frozen=True, kw_only=True)
class Receipt:
    """What was accepted. `is_held`: everything is; else the owner must still confirm."""

    answer: ClientAnswer
    at: datetime
    at_zone: str
    chosen: tuple[str, ...]
    total: str
    is_held: bool
    is_kept: bool
    is_time_taken: bool
    install: str
    dues: tuple[ShownDue, ...]
    settling: tuple[tuple[str, str], ...]


@dataclass(frozen=True, kw_only=True)
class ClientPage:
    link: ClientLink
    edition: Edition
    state: PageState
    document: dict[str, Any]
    is_owner: bool
    accept: AcceptForm
    decline: DeclineForm
    ask: AskForm
    shown: ShownTotal | None
    receipt: Receipt | None
    before: Receipt | None
    elsewhere: ClientAnswer | None
    declined: ClientAnswer | None
    questions: tuple[ClientQuestion, ...]
    notice: str = ""

    @property
    def is_open(self) -> bool:
        return self.state == PageState.OPEN

    @property
    def may_ask(self) -> bool:
        return self.state in MAY_ASK

    @property
    def expired_on(self) -> str:
        return date_text(self.edition.expires_on)


def latest_of(quote: Quote) -> Edition | None:
    editions = quote.editions.defer("pdf").select_related("quote__job__client", "quote__job__site")
    return editions.order_by("-number").first()


def page_state(edition: Edition, *, today: date) -> PageState:
    """Also asks whether somebody else has taken its time."""
    state = edition_state(edition, today=today)
    if state != PageState.OPEN:
        return state
    hours = hours_asked(edition, counted_choice(edition.result))
    taken = time_is_taken(edition.quote.job, hours)
    return PageState.TIME_TAKEN if taken else PageState.OPEN


def client_page(
    link: ClientLink,
    edition: Edition,
    *,
    business: Business,
    is_owner: bool,
    today: date,
    accept: AcceptForm | None = None,
    decline: DeclineForm | None = None,
    ask: AskForm | None = None,
    chosen: Chosen | None = None,
    notice: str = "",
) -> ClientPage:
    state = page_state(edition, today=today)
    answers = ClientAnswer.objects.filter(edition__quote=edition.quote_id)
    answers = list(answers.select_related("edition").order_by("at"))
    for answer in answers:
        answer.edition.quote = edition.quote
    own = next((answer for answer in answers if answer.edition_id == edition.pk), None)
    accepted = [answer for answer in answers if answer.kind == AnswerKind.ACCEPTED]
    before = next((answer for answer in reversed(accepted) if answer != own), None)
    is_accepted = own is not None and own.kind == AnswerKind.ACCEPTED
    return ClientPage(
        link=link,
        edition=edition,
        state=state,
        document=edition_document(edition, photo_url=_photo_url(link, edition)),
        is_owner=is_owner,
        accept=accept or AcceptForm(edition=edition),
        decline=decline or DeclineForm(),
        ask=ask or AskForm(),
        shown=shown_total(edition, chosen, today) if state == PageState.OPEN else None,
        receipt=_receipt(own, business, today) if is_accepted else None,
        before=_receipt(before, business, today) if before and own is None else None,
        elsewhere=accepted_elsewhere(edition) if state == PageState.OTHER_ACCEPTED else None,
        declined=own if own and not is_accepted else None,
        questions=tuple(edition.quote.questions.all()),
        notice=notice,
    )


def shown_total(edition: Edition, chosen: Chosen | None, today: date) -> ShownTotal | None:
    """None where the editions of before froze no price for it: then it cannot be accepted here."""
    chosen = counted_choice(edition.result) if chosen is None else chosen
    try:
        combination = frozen_combination(edition.result, chosen)
    except NotOnOffer:
        return None
    return ShownTotal(
        key=choice_key(chosen),
        total=money_text(combination.total_cents, edition.currency),
        dues=_planned_dues(combination.plan, edition.currency, today),
    )


def choice_key(chosen: Chosen) -> str:
    return ",".join(f"{number}:{pk}" for number, pk in sorted(chosen.items()))


def _planned_dues(plan: PaymentPlan, currency: str, today: date) -> tuple[ShownDue, ...]:
    return tuple(
        ShownDue(
            name=DUE_NAMES[due.kind],
            text=money_text(due.amount_cents, currency),
            when=f"by {date_text(due.due_on)}" if due.kind == DueKind.BALANCE else WHEN_YOU_ACCEPT,
        )
        for due in dues_of(plan, on=today)
        if due.amount_cents
    )


def _receipt(answer: ClientAnswer, business: Business, today: date) -> Receipt:
    edition, zone = answer.edition, ZoneInfo(answer.timezone)
    at = timezone.localtime(answer.at, zone)
    is_held = is_promised(answer)
    account = account_of(edition.quote.job, today=today)
    return Receipt(
        answer=answer,
        at=at,
        at_zone=f"{at.tzname()}, {answer.timezone}",
        chosen=tuple(_chosen_words(answer)),
        total=money_text(answer.total_cents, edition.currency),
        is_held=is_held,
        is_kept=is_held and account.deposit_is_in,
        is_time_taken=answer.outcome == Outcome.TIME_TAKEN,
        install=_install_text(edition.quote, business) if is_held else "",
        dues=tuple(
            ShownDue(
                name=line.name,
                text=money_text(line.due.amount_cents, edition.currency),
                when=f"by {date_text(line.due.due_on)}",
                is_paid=line.is_paid,
            )
            for line in account.dues
            if is_held
        ),
        settling=tuple(_settling(account, edition.currency)),
    )


def _settling(account: Account, currency: str) -> Iterator[tuple[str, str]]:
    """What is kept, was paid, and is left to pay or to give back, once it was called off."""
    if account.job.stage != Stage.CALLED_OFF or not (account.owed_cents or account.paid_cents):
        return
    yield "Kept, as agreed for calling off", money_text(account.owed_cents, currency)
    yield "You paid", money_text(account.paid_cents, currency)
    if account.refund_due_cents:
        yield "You get back", money_text(account.refund_due_cents, currency)
    else:
        yield "Still to pay", money_text(account.balance_cents, currency)


def answer_of(quote: Quote) -> ClientAnswer | None:
    """The last acceptance of any of its editions."""
    answers = ClientAnswer.objects.filter(edition__quote=quote, kind=AnswerKind.ACCEPTED)
    return answers.select_related("edition__quote__job").order_by("at").last()


def install_of(quote: Quote) -> Visit | None:
    """What a client can put into their calendar."""
    visits = Visit.objects.filter(job=quote.job_id, kind=VisitKind.INSTALL, called_off_at=None)
    return visits.select_related("job__client", "job__site").first()


def _install_text(quote: Quote, business: Business) -> str:
    install = install_of(quote)
    if install is None:
        return ""
    day = date_text(local_day(install.starts_at))
    return f"{day}, {window_text(install.starts_at, business.arrival_window_minutes)}"


def _chosen_words(answer: ClientAnswer) -> list[str]:
    chosen = set(answer.chosen.values())
    return [
        f"{option['variant']}: {option['title']}"
        for options in frozen_choices(answer.edition.result).values()
        for option in options
        if option["id"] in chosen
    ]


def photo_names(edition: Edition) -> list[str]:
    return sorted(edition.inputs["photos"])


def _photo_url(link: ClientLink, edition: Edition) -> Any:
    names = photo_names(edition)
    return lambda name: reverse("client_page_photo", args=[link.pk, names.index(name)])
