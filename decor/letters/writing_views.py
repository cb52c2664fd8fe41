"""A letter for a job: a kind is chosen, the words are looked over, and Send is pressed."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from decor.letters.attachments import offer_for
from decor.letters.fields import every_field
from decor.letters.filling import late_filled, late_in, problems_of
from decor.letters.forms import CopyForm, LetterForm
from decor.letters.lists import kinds_sent
from decor.letters.service import CONFIRMATIONS, LetterRefused, letter_write
from decor.letters.showing import shown
from decor.letters.texts import OURS, WHAT_FOR, Words, words_of
from decor.letters.views import tell_what_became
from decor.models import Job
from decor.models.letter import LetterKind

BY_HAND = [kind for kind in OURS if kind not in CONFIRMATIONS]


@require_GET
def letter_choose(request: HttpRequest, pk: int) -> HttpResponse:
    job, sent = _job(pk), kinds_sent(pk)
    kinds = [(kind, WHAT_FOR[kind], sent.get(kind)) for kind in BY_HAND]
    return render(request, "decor/letters/letter_choose.html", {"job": job, "kinds": kinds})


@require_http_methods(["GET", "POST"])
def letter_new(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    job, kind = _job(pk), _kind(kind)
    offer = offer_for(kind, job)
    form = LetterForm(request.POST or None, job=job, kind=kind, attachment=offer)
    if not form.is_valid() or "preview" in request.POST:
        return _page(request, form, kind)
    try:
        letter = letter_write(
            kind=kind,
            job=job,
            to=form.cleaned_data["to"],
            subject=form.cleaned_data["subject"],
            body=form.cleaned_data["body"],
            attachment=offer.made() if offer and form.cleaned_data.get("attach") else None,
            by=request.user,
            now=timezone.now(),
            entry_key=str(form.cleaned_data["press"]),
        )
    except LetterRefused as refused:
        form.add_error(None, str(refused))
        return _page(request, form, kind)
    tell_what_became(request, letter, keep=f"keep:{_keep(job, kind)}")
    return redirect("letter_detail", pk=letter.pk)


@require_POST
@never_cache
def letter_copy(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    """The words for a message. A secret in them is made now, and shown this once."""
    job, kind = _job(pk), _kind(kind)
    form = CopyForm(request.POST, job=job, kind=kind, attachment=None)
    if not form.is_valid():
        return _page(request, form, kind)
    body = form.cleaned_data["body"]
    minted = {field.name: field.mint(job, timezone.now()).text for field in late_in(body)}
    context = {"job": job, "kind": kind, "text": late_filled(body, minted), "has_secret": minted}
    return render(request, "decor/letters/letter_copy.html", context)


def _page(request: HttpRequest, form: LetterForm, kind: LetterKind) -> HttpResponse:
    typed = _typed(form)
    can_be_shown = not problems_of(typed.subject) and not problems_of(typed.body)
    words = words_of(kind) if not form.is_bound else typed
    context = {
        "form": form,
        "job": form.job,
        "kind": kind,
        "keep": _keep(form.job, kind),
        "fields": every_field(),
        "shown": shown(words, form.job) if can_be_shown else None,
    }
    status = 422 if form.errors else 200
    return render(request, "decor/letters/letter_new.html", context, status=status)


def _typed(form: LetterForm) -> Words:
    return Words(str(form["subject"].value() or ""), str(form["body"].value() or ""))


def _keep(job: Job, kind: LetterKind) -> str:
    return f"letter-{job.pk}-{kind.value}"


def _job(pk: int) -> Job:
    return get_object_or_404(Job.objects.select_related("client", "site"), pk=pk)


def _kind(kind: str) -> LetterKind:
    if kind not in BY_HAND:
        raise Http404
    return LetterKind(kind)
