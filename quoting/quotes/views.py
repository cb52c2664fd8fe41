from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from decor.models import Job
from quoting.models import Quote
from quoting.quotes import service
from quoting.quotes.forms import ConditionsForm, DiscountForm
from quoting.quotes.page import quote_page

SAVED = "Saved."
DISCARDED = "Quote {number} is discarded."
NOW_CURRENT = "This quote is now priced with rate card {version}."


@require_POST
def quote_new(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=job_pk)
    try:
        quote = service.quote_start(job=job, today=timezone.localdate())
    except service.QuoteRefused as refused:
        messages.warning(request, str(refused))
        return redirect("job_detail", pk=job.pk)
    return redirect("quote_detail", pk=quote.pk)


@require_GET
def quote_detail(request: HttpRequest, pk: int) -> HttpResponse:
    page = quote_page(quote_at(pk), business=request.business, today=timezone.localdate())
    return render(request, "quoting/quotes/quote_detail.html", {"page": page, "quote": page.quote})


@require_http_methods(["GET", "POST"])
def quote_edit(request: HttpRequest, pk: int) -> HttpResponse:
    quote = quote_at(pk)
    form = ConditionsForm(request.POST or None, quote=quote, today=timezone.localdate())
    if request.method == "POST" and form.is_valid():
        service.quote_conditions_set(quote=quote, text=form.text())
        messages.success(request, SAVED, extra_tags=f"keep:quote-{pk}")
        return redirect("quote_detail", pk=pk)
    return form_page(request, form, quote, "quoting/quotes/quote_edit.html")


@require_http_methods(["GET", "POST"])
def quote_discount(request: HttpRequest, pk: int) -> HttpResponse:
    quote = quote_at(pk)
    form = DiscountForm(request.POST or None, quote=quote, business=request.business)
    if request.method == "POST" and form.is_valid():
        service.quote_discount_set(quote=quote, **form.values())
        messages.success(request, SAVED, extra_tags=f"keep:discount-{pk}")
        return redirect("quote_detail", pk=pk)
    return form_page(request, form, quote, "quoting/quotes/quote_discount.html")


@require_POST
def quote_current_rates(request: HttpRequest, pk: int) -> HttpResponse:
    quote = quote_at(pk)
    service.quote_use_current_rates(quote=quote, today=timezone.localdate())
    messages.success(request, NOW_CURRENT.format(version=quote.rate_card.version))
    return redirect("quote_detail", pk=pk)


@require_http_methods(["GET", "POST"])
def quote_discard(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks first."""
    quote = quote_at(pk)
    if quote.editions.exists():
        messages.warning(request, service.WAS_SENT)
        return redirect("quote_detail", pk=pk)
    if request.method == "POST":
        try:
            service.quote_discard(quote=quote)
        except service.QuoteRefused as refused:
            messages.warning(request, str(refused))
            return redirect("quote_detail", pk=pk)
        messages.success(request, DISCARDED.format(number=quote.number))
        return redirect("job_detail", pk=quote.job_id)
    titles = [piece.title for piece in quote.pieces.all()]
    titles += [line.label for line in quote.extra_lines.all()]
    context = {"quote": quote, "titles": titles}
    return render(request, "quoting/quotes/quote_discard.html", context)


def quote_at(pk: int) -> Quote:
    quotes = Quote.objects.select_related("job__client", "job__site", "rate_card")
    return get_object_or_404(quotes, pk=pk)


def form_page(
    request: HttpRequest, form: ConditionsForm | DiscountForm, quote: Quote, template: str
) -> HttpResponse:
    status = 422 if form.is_bound else 200
    return render(request, template, {"form": form, "quote": quote}, status=status)
