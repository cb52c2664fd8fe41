from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from decor.jobs.stages import MoveRefused
from decor.models import Job, Visit
from decor.models.job import Stage
from inventory.kit.service import kit_holds_open
from quoting.covering.answer import can_take
from quoting.covering.forms import BuyListForm
from quoting.covering.promising import (
    is_held_as_quoted,
    quote_hold,
    quotes_with_pieces,
    rest_to_buy_list,
)
from quoting.covering.short_lines import short_lines
from quoting.covering.swapping import SwapRefused, colour_swap
from quoting.models import Quote
from quoting.promise.by_hand import is_to_be_confirmed, said_yes
from quoting.promise.refusal import NoTime, NotPromised
from quoting.quotes.pricing import quote_priced
from quoting.quotes.views import quote_at

ON_THE_LIST = "On the buy list, for making on {day:%A} {day.day} {day:%B}."
HELD_AS_QUOTED = "What is held for {title} is what it takes now."
SWAPPED = "{new} is in the place of {old} in {pieces}. Change the colours there to go back."
NOT_OFFERED = "That is not free any more. Nothing was changed."
HOLDING = (Stage.PROMISED, Stage.MADE)
LONGEST_REASON = Visit._meta.get_field("overruled_reason").max_length
PROMISED = "{title} is promised, and what it takes of the shelf is held for it."


@require_GET
def quote_covering(request: HttpRequest, pk: int) -> HttpResponse:
    return _page(request, quote_at(pk))


@require_POST
def quote_covering_buy(request: HttpRequest, pk: int) -> HttpResponse:
    quote, today = quote_at(pk), timezone.localdate()
    answer = can_take(quote_priced(quote, today=today), today=today)
    if answer.problem:
        return redirect("quote_covering", pk=pk)
    form = BuyListForm(request.POST, answer=answer, today=today)
    if not form.is_valid():
        return _page(request, quote, form=form, status=422)
    rest_to_buy_list(answer, own_days=form.own_days(), by=request.user, now=timezone.now())
    messages.success(request, ON_THE_LIST.format(day=answer.needed_on))
    return redirect("quote_covering", pk=pk)


@require_POST
def quote_covering_swap(request: HttpRequest, pk: int, item_pk: int, other_pk: int) -> HttpResponse:
    """A colour that is free in the place of one that is short; the answer offers it."""
    quote, today = quote_at(pk), timezone.localdate()
    answer = can_take(quote_priced(quote, today=today), today=today)
    offered = (
        (each.line, other.found.item)
        for each in short_lines(answer, today=today)
        for other in each.substitutes
        if (each.line.item.pk, other.found.item.pk) == (item_pk, other_pk) and other.can_swap
    )
    line, other = next(offered, (None, None))
    if line is None:
        messages.warning(request, NOT_OFFERED)
        return redirect("quote_covering", pk=pk)
    try:
        colour_swap(
            pieces=list(line.pieces),
            old=line.item,
            new=other,
            business=request.business,
            today=today,
        )
    except SwapRefused as refused:
        messages.warning(request, str(refused))
        return redirect("quote_covering", pk=pk)
    titles = ", ".join(f"“{piece.title}”" for piece in line.pieces)
    said = {"new": other.colour.name, "old": line.item.colour.name, "pieces": titles}
    messages.success(request, SWAPPED.format(**said))
    return redirect("quote_covering", pk=pk)


@require_POST
def quote_promise(request: HttpRequest, pk: int) -> HttpResponse:
    """Where the hours are not free, the page asks why it should be promised all the same."""
    quote = quote_at(pk)
    overruled = request.POST.get("overruled", "").strip()[:LONGEST_REASON]
    try:
        said_yes(quote=quote, overruled=overruled, by=request.user, now=timezone.now())
    except NoTime as clash:
        return _page(request, quote, clash=str(clash), status=422)
    except (MoveRefused, NotPromised) as refused:
        messages.warning(request, str(refused))
        return redirect("quote_covering", pk=pk)
    messages.success(request, PROMISED.format(title=quote.job.title))
    return redirect("job_detail", pk=quote.job_id)


@require_POST
def quote_hold_again(request: HttpRequest, pk: int) -> HttpResponse:
    """After the promise: what is held becomes what the quote takes now."""
    quote = quote_at(pk)
    if quote.job.stage not in HOLDING:
        return redirect("quote_covering", pk=pk)
    try:
        quote_hold(quote=quote, now=timezone.now())
    except MoveRefused as refused:
        messages.warning(request, str(refused))
    else:
        messages.success(request, HELD_AS_QUOTED.format(title=quote.job.title))
    return redirect("quote_covering", pk=pk)


@require_GET
def job_promise(request: HttpRequest, job_pk: int) -> HttpResponse:
    """Leads to the quote to promise; asks which, where there are several."""
    job = get_object_or_404(Job.objects.select_related("client", "site"), pk=job_pk)
    quotes = quotes_with_pieces(job)
    if len(quotes) == 1:
        return redirect("quote_covering", pk=quotes[0].pk)
    context = {"job": job, "quotes": quotes, "promised": Stage.PROMISED}
    return render(request, "quoting/covering/job_promise.html", context)


def _page(
    request: HttpRequest,
    quote: Quote,
    *,
    form: BuyListForm | None = None,
    clash: str = "",
    status: int = 200,
) -> HttpResponse:
    today = timezone.localdate()
    answer = can_take(quote_priced(quote, today=today), today=today)
    to_confirm = is_to_be_confirmed(quote)
    is_quoted = quote.job.stage == Stage.QUOTED and not quote.job.is_archived
    context = {
        "quote": quote,
        "answer": answer,
        "form": form or (None if answer.problem else BuyListForm(answer=answer, today=today)),
        "short_lines": short_lines(answer, today=today),
        "kit": kit_holds_open(quote.job),
        "is_waiting": is_quoted or to_confirm is not None,
        "to_confirm": to_confirm,
        "clash": clash,
        "reason_missing": "overruling" in request.POST,
        "is_promised": quote.job.stage in HOLDING,
        "is_behind": quote.job.stage in HOLDING and not is_held_as_quoted(answer),
        "is_before_sending": quote.job.stage == Stage.ASKED,
        "today": today,
    }
    return render(request, "quoting/covering/quote_covering.html", context, status=status)
