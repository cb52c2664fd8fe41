"""The outbox, and one letter in it."""

from django.conf import settings
from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from decor.letters.lists import letters_listed, letters_not_sent, letters_over
from decor.letters.outbox import letter_stop as stop
from decor.letters.outbox import letter_try_again as try_again
from decor.letters.outbox import mail_is_set_up, outbox_send
from decor.letters.showing import without_secrets
from decor.models import Letter
from decor.models.letter import LetterState

LETTERS_A_PAGE = 25
FILES = "django.core.mail.backends.filebased.EmailBackend"

SENT = "Sent to {to}."
WAITS = "It could not go yet: {why} It is tried again by itself."
NOT_SENT = "It was not sent: {why}"
WAITS_FOR_A_SERVER = "It waits in the outbox, as no mail server is set up yet."
ON_ITS_WAY = "It is on its way at this moment, or went already. Look again in a few minutes."
STOPPED = "Stopped. It does not go unless you try it again."


@require_GET
def letter_list(request: HttpRequest) -> HttpResponse:
    page = Paginator(letters_over(), LETTERS_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "unsent": letters_not_sent(),
        "page": page,
        "mail_is_set_up": mail_is_set_up(),
        "are_files": settings.EMAIL_BACKEND == FILES,
    }
    return render(request, "decor/letters/letter_list.html", context)


@require_GET
def letter_detail(request: HttpRequest, pk: int) -> HttpResponse:
    letter = get_object_or_404(letters_listed(), pk=pk)
    context = {
        "letter": letter,
        "body": without_secrets(letter.body),
        "mail_is_set_up": mail_is_set_up(),
    }
    return render(request, "decor/letters/letter_detail.html", context)


@require_GET
def letter_attachment(request: HttpRequest, pk: int) -> HttpResponse:
    letter = get_object_or_404(Letter, pk=pk)
    if not letter.attachment_name:
        raise Http404
    name = letter.attachment_name
    return HttpResponse(
        bytes(letter.attachment),
        content_type=letter.attachment_type,
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )


@require_POST
def letter_try_again(request: HttpRequest, pk: int) -> HttpResponse:
    letter, now = get_object_or_404(letters_listed(), pk=pk), timezone.now()
    if try_again(letter=letter, now=now):
        outbox_send(now=now, only=[letter.pk])
        tell_what_became(request, letter)
    else:
        messages.warning(request, ON_ITS_WAY)
    return redirect("letter_detail", pk=pk)


@require_POST
def letter_stop(request: HttpRequest, pk: int) -> HttpResponse:
    if stop(letter=get_object_or_404(letters_listed(), pk=pk)):
        messages.success(request, STOPPED)
    else:
        messages.warning(request, ON_ITS_WAY)
    return redirect("letter_detail", pk=pk)


def tell_what_became(request: HttpRequest, letter: Letter, *, keep: str = "") -> None:
    """What the owner reads after a press of Send. `keep`: the form that needs no keeping now."""
    letter.refresh_from_db(fields=["state", "last_error"])
    if letter.state == LetterState.SENT:
        messages.success(request, SENT.format(to=letter.to), extra_tags=keep)
    elif letter.state == LetterState.FAILED:
        messages.error(request, NOT_SENT.format(why=letter.last_error), extra_tags=keep)
    elif letter.last_error:
        messages.warning(request, WAITS.format(why=letter.last_error), extra_tags=keep)
    else:
        messages.warning(request, WAITS_FOR_A_SERVER, extra_tags=keep)
