import json
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.http import require_GET, require_POST

from decor.crew.access import helper_of, jobs_shown
from decor.models import Job
from decor.models.job import Stage
from quoting.making import sheet as sheets
from quoting.making.cards import Card, card_sections
from quoting.making.days import days_together, jobs_made_on
from quoting.making.documents import labels_pdf, sheet_pdf
from quoting.making.forms import HoursForm
from quoting.making.pace import pace_together
from quoting.making.pressing import pressed
from quoting.making.ticks import Taken, Told, told_take
from quoting.making.told import NOT_READ
from quoting.making.working import work_type

HOURS_KEPT = "Kept."
NOT_PROMISED = "This job is not promised. What you count now takes balloons that nobody holds."


@require_GET
def making_sheet(request: HttpRequest, job_pk: int) -> HttpResponse:
    return _page(request, _job(request, job_pk))


@require_GET
def making_day(request: HttpRequest, on: date) -> HttpResponse:
    shown, now = _sheets_of_day(request, on), timezone.now()
    pace = pace_together(sheet.pace for sheet in shown)
    context = {
        "on": on,
        "sheets": shown,
        "sections": card_sections(shown),
        "pace": pace,
        "finish_at": pace.finish_at(now),
        "now_iso": now.isoformat(),
        "is_made": bool(shown) and all(sheet.is_made for sheet in shown),
        "press_url": reverse("making_day_press", args=[on]),
    }
    return render(request, "quoting/making/making_day.html", context)


@require_POST
def making_told(request: HttpRequest, job_pk: int) -> JsonResponse:
    """From the script: all that waited on the phone. It is answered by what stands now."""
    job = _job(request, job_pk)
    told = _told(request)
    if told is None:
        return JsonResponse({"said": [NOT_READ]}, status=400)
    taken = told_take(job=job, told=told, by=request.user, now=timezone.now())
    return JsonResponse(_answer(job, taken))


@require_POST
def making_press(request: HttpRequest, job_pk: int) -> HttpResponse:
    """From a page without scripts: one press of one button."""
    job = _job(request, job_pk)
    _pressed(request, [job])
    return redirect(f"{reverse('making_sheet', args=[job.pk])}#{_anchor(request)}")


@require_POST
def making_day_press(request: HttpRequest, on: date) -> HttpResponse:
    _pressed(request, [sheet.job for sheet in _sheets_of_day(request, on)])
    return redirect(f"{reverse('making_day', args=[on])}#{_anchor(request)}")


@require_POST
def making_hours(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = _job(request, job_pk)
    form = HoursForm(request.POST, today=timezone.localdate(), job_pk=job.pk)
    if not form.is_valid():
        return _page(request, job, hours_form=form, status=422)
    said = form.cleaned_data
    work_type(
        job=job,
        phase=said["phase"],
        on=said["on"],
        minutes=said["hours"],
        people=said["people"],
        by=request.user,
    )
    messages.success(request, HOURS_KEPT, extra_tags=f"keep:hours-{job.pk}")
    return redirect("making_sheet", job_pk=job.pk)


@require_GET
def making_pdf(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = _job(request, job_pk)
    sheet = sheets.making_sheet(job, now=timezone.now())
    return _file(sheet_pdf(sheet, business=request.business, now=timezone.now()), "making", job)


@require_GET
def making_labels(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = _job(request, job_pk)
    sheet = sheets.making_sheet(job, now=timezone.now())
    return _file(labels_pdf(sheet, business=request.business), "bag-labels", job)


def _job(request: HttpRequest, pk: int) -> Job:
    return get_object_or_404(jobs_shown(request).select_related("client", "site"), pk=pk)


def _sheets_of_day(request: HttpRequest, on: date) -> list[sheets.Sheet]:
    now, allowed = timezone.now(), set(jobs_shown(request).values_list("pk", flat=True))
    return [sheets.making_sheet(job, now=now) for job in jobs_made_on(on) if job.pk in allowed]


def _page(
    request: HttpRequest, job: Job, *, hours_form: HoursForm | None = None, status: int = 200
) -> HttpResponse:
    now = timezone.now()
    sheet = sheets.making_sheet(job, now=now)
    today = timezone.localdate(now)
    context = {
        "job": job,
        "sheet": sheet,
        "sections": card_sections([sheet]),
        "finish_at": sheet.pace.finish_at(now),
        "now_iso": now.isoformat(),
        "days_together": days_together(job),
        "hours_form": hours_form or HoursForm(today=today, job_pk=job.pk),
        "press_url": reverse("making_press", args=[job.pk]),
        "not_promised": NOT_PROMISED if job.stage not in _AT_WORK else "",
        "is_helper": helper_of(request) is not None,
    }
    return render(request, "quoting/making/making_sheet.html", context, status=status)


_AT_WORK = (Stage.PROMISED, Stage.MADE, Stage.UP, Stage.DONE)


def _told(request: HttpRequest) -> Told | None:
    try:
        said = json.loads(request.body)
    except ValueError:
        return None
    if not isinstance(said, Mapping):
        return None
    lists = [said.get(name, []) for name in ("ticks", "popped", "work")]
    if not all(isinstance(each, list) for each in lists):
        return None
    ticks, popped, work = map(tuple, lists)
    return Told(ticks=ticks, popped=popped, work=work)


def _answer(job: Job, taken: Taken) -> dict[str, Any]:
    now = timezone.now()
    sheet = sheets.making_sheet(job, now=now)
    cards = [card for section in card_sections([sheet]) for card in section.cards]
    return {
        "at": now.isoformat(),
        "taken": taken.taken,
        "refused": [{"key": each.key, "why": each.why} for each in taken.refused],
        "said": [*taken.said, *(each.why for each in taken.refused)],
        "counts": {step: max(0, count) for step, count in sheet.counts.items()},
        "popped": {each.step.name: each.popped for each in sheet.steps if each.popped},
        "from": {card.shares[0].step.name: _from(card) for card in cards if card.is_balloons},
        "factor": sheet.pace.factor,
        "people": sheet.pace.people,
        "is_made": taken.is_made,
    }


def _from(card: Card) -> dict[str, Any]:
    return {"words": card.from_words, "bag": card.bag.pk if card.bag else None}


def _pressed(request: HttpRequest, jobs: Sequence[Job]) -> None:
    said: list[str] = []
    for job, told in pressed(request.POST, {job.pk: job for job in jobs}, now=timezone.now()):
        taken = told_take(job=job, told=told, by=request.user, now=timezone.now())
        said += [*taken.said, *(each.why for each in taken.refused)]
    for line in dict.fromkeys(said):
        messages.info(request, line)


def _anchor(request: HttpRequest) -> str:
    return slugify(request.POST.get("anchor", ""))


def _file(pdf: bytes, name: str, job: Job) -> HttpResponse:
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}-{slugify(job.title)}.pdf"'
    return response
