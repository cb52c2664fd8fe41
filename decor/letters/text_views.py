"""The owner's own words for every kind of letter."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from decor.letters.fields import every_field
from decor.letters.forms import JOBS_TO_TRY, LetterTextForm
from decor.letters.lists import jobs_to_try
from decor.letters.service import CONFIRMATIONS
from decor.letters.showing import Shown, shown
from decor.letters.texts import OURS, WHAT_FOR, Words, changed_kinds, words_of, words_reset
from decor.letters.texts import words_set as set_words
from decor.models import Job
from decor.models.letter import LetterKind

SAVED = "Saved. Letters you write from now on begin with these words."
RESET = "“{kind}” has our words again."


@require_GET
def letter_text_list(request: HttpRequest) -> HttpResponse:
    changed = changed_kinds()
    rows = [(kind, WHAT_FOR[kind], kind in changed) for kind in OURS]
    context = {
        "by_hand": [row for row in rows if row[0] not in CONFIRMATIONS],
        "by_itself": [row for row in rows if row[0] in CONFIRMATIONS],
    }
    return render(request, "decor/letters/letter_text_list.html", context)


@require_http_methods(["GET", "POST"])
def letter_text(request: HttpRequest, kind: str) -> HttpResponse:
    kind, jobs = _kind(kind), jobs_to_try(JOBS_TO_TRY)
    form = LetterTextForm(request.POST or None, kind=kind, jobs=jobs)
    if form.is_valid() and "preview" not in request.POST:
        set_words(kind=kind, words=form.words())
        messages.success(request, SAVED, extra_tags=f"keep:letter-text-{kind.value}")
        return redirect("letter_text", kind=kind.value)
    context = {
        "form": form,
        "kind": kind,
        "what_for": WHAT_FOR[kind],
        "is_changed": kind in changed_kinds(),
        "fields": every_field(),
        "shown": _shown(form, kind, jobs),
    }
    status = 422 if form.errors else 200
    return render(request, "decor/letters/letter_text.html", context, status=status)


@require_http_methods(["GET", "POST"])
def letter_text_reset(request: HttpRequest, kind: str) -> HttpResponse:
    kind = _kind(kind)
    if request.method == "POST":
        words_reset(kind=kind)
        messages.success(request, RESET.format(kind=kind.label))
        return redirect("letter_text", kind=kind.value)
    context = {"kind": kind, "ours": OURS[kind], "yours": words_of(kind)}
    return render(request, "decor/letters/letter_text_reset.html", context)


def _shown(form: LetterTextForm, kind: LetterKind, jobs: list[Job]) -> Shown | None:
    """None where there is no job to try it on, or what was typed cannot be filled in."""
    if not jobs or form.errors:
        return None
    if not form.is_bound:
        return shown(words_of(kind), jobs[0])
    job = form.cleaned_data["job"] or jobs[0]
    return shown(Words(form.cleaned_data["subject"], form.cleaned_data["body"]), job)


def _kind(kind: str) -> LetterKind:
    if kind not in OURS:
        raise Http404
    return LetterKind(kind)
