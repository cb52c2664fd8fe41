from collections.abc import Mapping
from dataclasses import dataclass

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from decor.documents.pdf import render_pdf
from inventory.bags.deeds import HOW_MANY_COUNTED
from inventory.counting.service import (
    CountRefused,
    CountRow,
    count_enter,
    count_forget,
    counting_finish,
    counting_rows,
    counting_start,
    countings_finished,
    places_to_count,
)
from inventory.ledger.service import BagRefused
from inventory.models import Bag, CountedBag, Counting
from inventory.shelf.listing import bags_at, places_listed

FINISHED_A_PAGE = 20
SHEET_MOST = 500
DIGITS_MOST = 7
WHY = "why_"
NO_PLACE = "What has no place"
REASONS = (
    "Used and not written down",
    "Popped and not written down",
    "Miscounted before",
    "Found in another place",
)
NONE_DIFFER = "{place} is counted. Everything was as the ledger says."
SOME_DIFFER = "{place} is counted. {count} differed, and the ledger is set right."
NOTHING_COUNTED = "Nothing is counted yet: enter a number for at least one bag."


@dataclass(frozen=True)
class ShownRow:
    """A bag as the page shows it: what was typed stays, though it may be wrong."""

    bag: Bag
    entry: CountedBag | None
    difference: int
    difference_text: str
    typed: str
    problem: str


@require_GET
def counting_list(request: HttpRequest) -> HttpResponse:
    finished = Paginator(countings_finished(), FINISHED_A_PAGE)
    context = {
        "places": places_to_count(),
        "page": finished.get_page(request.GET.get("page")),
    }
    return render(request, "inventory/counting/counting_list.html", context)


@require_POST
def counting_begin(request: HttpRequest) -> HttpResponse:
    place = request.POST.get("place", "")
    if place not in {each.name for each in places_listed()}:
        return redirect("counting_list")
    counting = counting_start(place=place, by=request.user, now=timezone.now())
    return redirect("counting_detail", pk=counting.pk)


@require_http_methods(["GET", "POST"])
def counting_detail(request: HttpRequest, pk: int) -> HttpResponse:
    """Enter counts. Each is kept at once where scripts run, all of them by the button elsewhere."""
    counting = _unfinished(pk)
    if counting is None:
        return redirect("counting_list")
    entered = _counts_enter(counting, request.POST) if request.method == "POST" else {}
    problems = {pk: problem for pk, problem in entered.items() if problem}
    if request.htmx or request.method == "GET" or problems:
        return _counting_page(request, counting, entered=entered)
    if counting.counted_bags.exists():
        return redirect("counting_end", pk=pk)
    messages.warning(request, NOTHING_COUNTED)
    return redirect("counting_detail", pk=pk)


@require_http_methods(["GET", "POST"])
def counting_end(request: HttpRequest, pk: int) -> HttpResponse:
    """The differences, each with its reason, before any of it is written."""
    counting = _unfinished(pk)
    if counting is None:
        return redirect("counting_list")
    if request.method == "GET":
        return _end_page(request, counting, reasons={}, problems={})
    reasons = _reasons_typed(request.POST)
    try:
        differed = counting_finish(
            counting=counting, reasons=reasons, by=request.user, now=timezone.now()
        )
    except CountRefused as refused:
        return _refused(request, counting, refused, reasons)
    said = SOME_DIFFER if differed else NONE_DIFFER
    place = counting.place or NO_PLACE
    messages.success(request, said.format(place=place, count=differed), f"keep:counting-{pk}")
    return redirect("counting_list")


@require_GET
def counting_sheet(request: HttpRequest) -> HttpResponse:
    """A place's bags on paper, with room to write."""
    place = request.GET.get("place", "")
    context = {
        "place": place,
        "bags": bags_at(place)[:SHEET_MOST],
        "today": timezone.localdate(),
        "business": request.business,
    }
    pdf = render_pdf("inventory/counting/sheet.html", context, request.business.paper)
    return HttpResponse(pdf, content_type="application/pdf")


def _unfinished(pk: int) -> Counting | None:
    counting = get_object_or_404(Counting, pk=pk)
    return counting if counting.finished_at is None else None


def _reasons_typed(typed: QueryDict) -> dict[int, str]:
    names = (
        (name.removeprefix(WHY), value) for name, value in typed.items() if name.startswith(WHY)
    )
    return {int(pk): value for pk, value in names if pk.isascii() and pk.isdecimal()}


def _refused(
    request: HttpRequest, counting: Counting, refused: CountRefused, reasons: Mapping[int, str]
) -> HttpResponse:
    if not refused.changed:
        return _end_page(request, counting, reasons=reasons, problems=refused.problems)
    for bag in refused.changed:
        count_forget(counting=counting, bag=bag)
        messages.warning(request, refused.problems[bag.pk])
    return redirect("counting_detail", pk=counting.pk)


def _end_page(
    request: HttpRequest,
    counting: Counting,
    *,
    reasons: Mapping[int, str],
    problems: Mapping[int, str],
) -> HttpResponse:
    rows = counting_rows(counting)
    context = {
        "counting": counting,
        "differing": [
            (row, reasons.get(row.bag.pk, ""), problems.get(row.bag.pk, ""))
            for row in rows
            if row.difference
        ],
        "as_said": sum(row.entry is not None and not row.difference for row in rows),
        "uncounted": [row for row in rows if row.entry is None],
        "usual_reasons": REASONS,
    }
    status = 422 if problems else 200
    return render(request, "inventory/counting/counting_end.html", context, status=status)


def _counts_enter(counting: Counting, typed: QueryDict) -> dict[int, str]:
    """Keeps every count that is new and can be. By bag of those that are new: what is wrong."""
    entered = {}
    for row in counting_rows(counting):
        text = typed.get(f"count_{row.bag.pk}")
        was = "" if row.entry is None else str(row.entry.counted)
        if text is not None and text.strip() != was:
            entered[row.bag.pk] = _count_enter(counting, row.bag, text.strip())
    return entered


def _count_enter(counting: Counting, bag: Bag, text: str) -> str:
    try:
        if not text:
            count_forget(counting=counting, bag=bag)
        elif text.isascii() and text.isdecimal() and len(text) <= DIGITS_MOST:
            count_enter(counting=counting, bag=bag, counted=int(text), now=timezone.now())
        else:
            return HOW_MANY_COUNTED
    except BagRefused as refused:
        return str(refused)
    return ""


def _counting_page(
    request: HttpRequest, counting: Counting, *, entered: Mapping[int, str]
) -> HttpResponse:
    """The whole page, or for htmx what has changed on it."""
    rows = [_shown(row, request.POST, entered) for row in counting_rows(counting)]
    context = {
        "counting": counting,
        "rows": rows,
        "changed": [row for row in rows if row.bag.pk in entered],
        "counted": sum(row.entry is not None for row in rows),
        "problems": [row for row in rows if row.problem],
    }
    part = "partials/counted.html" if request.htmx else "counting_detail.html"
    status = 422 if any(entered.values()) else 200
    return render(request, f"inventory/counting/{part}", context, status=status)


def _shown(row: CountRow, typed: QueryDict, entered: Mapping[int, str]) -> ShownRow:
    kept = "" if row.entry is None else str(row.entry.counted)
    return ShownRow(
        bag=row.bag,
        entry=row.entry,
        difference=row.difference,
        difference_text=row.difference_text,
        typed=typed.get(f"count_{row.bag.pk}", kept),
        problem=entered.get(row.bag.pk, ""),
    )
