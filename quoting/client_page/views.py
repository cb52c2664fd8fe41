"""What a client sees and does: no account, no scripts, nothing that is the owner's alone."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from decor.calendar.ics import event_ics
from decor.media import picture_response
from decor.models import JobPhoto
from decor.throttle.addresses import address_of
from quoting.client_page.forms import AcceptForm, AskForm, DeclineForm
from quoting.client_page.guard import client_view, has_guessed_too_often, missed, slowed
from quoting.client_page.links import LONGEST_TOKEN, link_of_token, link_opened
from quoting.client_page.opening import opened_link, opened_put
from quoting.client_page.page import (
    answer_of,
    choice_key,
    client_page,
    install_of,
    latest_of,
    photo_names,
    shown_total,
)
from quoting.models import ClientLink, Edition
from quoting.promise.service import (
    AnswerRefused,
    edition_accept,
    edition_decline,
    edition_pdf,
    question_ask,
)
from quoting.promise.states import PageState, is_promised, link_state
from quoting.quotes.combinations import NotOnOffer

REPLACED = (
    "While you were reading, this quote was changed. This is the new edition: please look at it "
    "again before you answer."
)
SUM_IS_NEW = "With what you chose the whole comes to {total}. If that is right, accept it now."
NOT_ON_OFFER = "That cannot be chosen in this quote. Please choose again."
ASKED_ENOUGH = "You have asked several questions already. Please wait for an answer, or call us."
MOST_OPEN_QUESTIONS = 10
OWNER_CANNOT_ANSWER = (
    "Only your client can answer here. If they told you, promise it from the quote’s own page."
)


@client_view
@require_safe
def page_open(request: HttpRequest, token: str) -> HttpResponse:
    """Checks the token and leads to an address without it. A HEAD opens nothing."""
    if has_guessed_too_often(request):
        return slowed(request)
    link = link_of_token(token) if len(token) <= LONGEST_TOKEN else None
    if link is None:
        missed(request)
        return render(request, "quoting/client_page/not_found.html", status=404)
    if request.method == "GET":
        opened_put(request, link)
    return redirect("client_page", link.pk)


@client_view
@require_safe
def page(request: HttpRequest, pk: int) -> HttpResponse:
    found = _found(request, pk)
    if isinstance(found, HttpResponse):
        return found
    link, edition = found
    if not request.user.is_authenticated:
        link_opened(link=link, now=timezone.now())
    return _page(request, link, edition)


@client_view
@require_http_methods(["GET", "HEAD", "POST"])
def accept(request: HttpRequest, pk: int) -> HttpResponse:
    found = _to_answer(request, pk)
    if isinstance(found, HttpResponse):
        return found
    link, edition = found
    form = AcceptForm(request.POST, edition=edition)
    is_valid, chosen = form.is_valid(), form.chosen()
    if "show" in request.POST and chosen is not None:
        return _page(request, link, edition, accept=form.unchecked(), chosen=chosen)
    if not is_valid:
        return _page(request, link, edition, status=422, accept=form, chosen=chosen)
    if form.has_several and request.POST.get("seen") != choice_key(chosen):
        return _new_sum(request, link, edition, form)
    try:
        edition_accept(
            edition=edition,
            link=link,
            typed_name=form.cleaned_data["name"],
            chosen=chosen,
            address=address_of(request),
            now=timezone.now(),
        )
    except NotOnOffer:
        form.add_error(None, NOT_ON_OFFER)
        return _page(request, link, edition, status=422, accept=form)
    except AnswerRefused as refused:
        return _refused(request, link, refused)
    return redirect("client_page", pk)


@client_view
@require_http_methods(["GET", "HEAD", "POST"])
def decline(request: HttpRequest, pk: int) -> HttpResponse:
    found = _to_answer(request, pk)
    if isinstance(found, HttpResponse):
        return found
    link, edition = found
    form = DeclineForm(request.POST)
    if not form.is_valid():
        return _page(request, link, edition, status=422, decline=form)
    try:
        edition_decline(
            edition=edition,
            link=link,
            reason=form.reason(),
            address=address_of(request),
            now=timezone.now(),
        )
    except AnswerRefused as refused:
        return _refused(request, link, refused)
    return redirect("client_page", pk)


@client_view
@require_http_methods(["GET", "HEAD", "POST"])
def ask(request: HttpRequest, pk: int) -> HttpResponse:
    found = _to_answer(request, pk, any_edition=True)
    if isinstance(found, HttpResponse):
        return found
    link, edition = found
    form = AskForm(request.POST)
    asked = link.quote.questions.filter(answered_at=None)
    if form.is_valid() and asked.count() >= MOST_OPEN_QUESTIONS:
        form.add_error("text", ASKED_ENOUGH)
    if not form.is_valid():
        return _page(request, link, edition, status=422, ask=form)
    text = form.cleaned_data["text"]
    if not asked.filter(text=text).exists():  # a double press asks once
        question_ask(quote=link.quote, text=text, typed_name="", now=timezone.now())
    return redirect("client_page", pk)


@client_view
@require_safe
def pdf(request: HttpRequest, pk: int) -> HttpResponse:
    found = _found(request, pk)
    if isinstance(found, HttpResponse):
        return found
    file = edition_pdf(found[1])
    disposition = f'attachment; filename="{file.name}"'
    headers = {"Content-Disposition": disposition, "X-Content-Type-Options": "nosniff"}
    return HttpResponse(file.content, content_type=file.content_type, headers=headers)


@client_view
@require_safe
def day(request: HttpRequest, pk: int) -> HttpResponse:
    """For the client's own calendar, once it is promised."""
    quote = _shown_link(request, pk).quote
    accepted = answer_of(quote)
    install = install_of(quote) if accepted and is_promised(accepted) else None
    if install is None:
        raise Http404
    name = f"{quote.number}.ics"
    return HttpResponse(
        event_ics(install, now=timezone.now()),
        content_type="text/calendar; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )


@client_view
@require_safe
def logo(request: HttpRequest, pk: int) -> HttpResponseBase:
    _shown_link(request, pk)
    if not request.business.logo:
        raise Http404
    return picture_response(request.business.logo)


@client_view
@require_safe
def photo(request: HttpRequest, pk: int, number: int) -> HttpResponseBase:
    """A photo of the place that the edition was drawn on; no other."""
    edition = latest_of(_shown_link(request, pk).quote)
    names = photo_names(edition) if edition else []
    if number >= len(names):
        raise Http404
    return picture_response(get_object_or_404(JobPhoto, image=names[number]).image)


def _shown_link(request: HttpRequest, pk: int) -> ClientLink:
    link = opened_link(request, pk)
    if link is None or _link_state(request, link) != PageState.OPEN:
        raise Http404
    return link


def _found(request: HttpRequest, pk: int) -> tuple[ClientLink, Edition] | HttpResponse:
    """The link and the edition to show; or the page that says why there is none."""
    link = opened_link(request, pk)
    if link is None:
        return render(request, "quoting/client_page/open_again.html", status=403)
    state = _link_state(request, link)
    if state != PageState.OPEN:
        return render(request, "quoting/client_page/no_more.html", {"state": state}, status=410)
    edition = latest_of(link.quote)
    if edition is None:
        return render(request, "quoting/client_page/not_yet.html", status=404)
    return link, edition


def _to_answer(
    request: HttpRequest, pk: int, *, any_edition: bool = False
) -> tuple[ClientLink, Edition] | HttpResponse:
    """As _found; an edition that is not the one that was read cannot be answered."""
    found = _found(request, pk)
    if isinstance(found, HttpResponse):
        return found
    if request.method != "POST":
        return redirect("client_page", pk)
    link, edition = found
    if request.user.is_authenticated:
        return _page(request, link, edition, status=403, notice=OWNER_CANNOT_ANSWER)
    if not any_edition and request.POST.get("edition") != str(edition.number):
        return _page(request, link, edition, status=409, notice=REPLACED)
    return found


def _refused(request: HttpRequest, link: ClientLink, refused: AnswerRefused) -> HttpResponse:
    """Something happened in the same moment: the page as it is now says what."""
    notice = REPLACED if refused.state == PageState.REPLACED else ""
    found = _found(request, link.pk)
    if isinstance(found, HttpResponse):
        return found
    return _page(request, *found, status=409, notice=notice)


def _new_sum(
    request: HttpRequest, link: ClientLink, edition: Edition, form: AcceptForm
) -> HttpResponse:
    """Nobody accepts a total that they have not seen."""
    chosen = form.chosen()
    shown = shown_total(edition, chosen, timezone.localdate())
    if shown is None:
        form.add_error(None, NOT_ON_OFFER)
    else:
        form.add_error(None, SUM_IS_NEW.format(total=shown.total))
    return _page(request, link, edition, status=422, accept=form, chosen=chosen)


def _page(
    request: HttpRequest,
    link: ClientLink,
    edition: Edition,
    *,
    status: int = 200,
    **shown: Any,
) -> HttpResponse:
    page = client_page(
        link,
        edition,
        business=request.business,
        is_owner=request.user.is_authenticated,
        today=timezone.localdate(),
        **shown,
    )
    context = {"page": page, "document": page.document}
    return render(request, "quoting/client_page/client_page.html", context, status=status)


def _link_state(request: HttpRequest, link: ClientLink) -> PageState:
    return link_state(link, business=request.business, now=timezone.now())
