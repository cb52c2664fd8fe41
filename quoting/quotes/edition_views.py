from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from quoting.models import Edition
from quoting.quotes.editions import draft_of, preview_pdf
from quoting.quotes.editions import quote_send as send
from quoting.quotes.page import quote_page
from quoting.quotes.refusal import QuoteRefused
from quoting.quotes.views import quote_at

FROZEN = "Edition {number} is made and kept. Now write the letter that brings it to your client."


@require_http_methods(["GET", "POST"])
def quote_send(request: HttpRequest, pk: int) -> HttpResponse:
    """GET: look it over. POST: freeze it."""
    quote = quote_at(pk)
    if request.method == "POST":
        try:
            edition = send(quote=quote, by=request.user, now=timezone.now())
        except QuoteRefused as refused:
            messages.warning(request, str(refused))
            return redirect("quote_send", pk=pk)
        messages.success(request, FROZEN.format(number=edition.number))
        return redirect("quote_edition", pk=pk, number=edition.number)
    today = timezone.localdate()
    page = quote_page(quote, business=request.business, today=today)
    since = "" if page.problems else draft_of(quote, today=today).inputs["since"]
    context = {"page": page, "quote": quote, "since": since}
    return render(request, "quoting/quotes/quote_send.html", context)


@require_GET
def quote_preview_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    quote = quote_at(pk)
    try:
        pdf = preview_pdf(quote, today=timezone.localdate())
    except QuoteRefused as refused:
        messages.warning(request, str(refused))
        return redirect("quote_detail", pk=pk)
    return _pdf_response(pdf, f"{quote.number}-preview.pdf")


@require_GET
def quote_edition(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    edition = _edition(pk, number)
    context = {
        "edition": edition,
        "quote": quote_at(pk),
        "is_latest": not Edition.objects.filter(quote=pk, number__gt=number).exists(),
    }
    return render(request, "quoting/quotes/quote_edition.html", context)


@require_GET
def edition_pdf(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    edition = get_object_or_404(Edition.objects.only("pdf"), quote=pk, number=number)
    name = f"{quote_at(pk).number}-edition-{number}.pdf"
    return _pdf_response(bytes(edition.pdf), name)


def _edition(pk: int, number: int) -> Edition:
    editions = Edition.objects.defer("pdf").select_related("rate_card", "sent_by")
    return get_object_or_404(editions, quote=pk, number=number)


def _pdf_response(pdf: bytes, name: str) -> HttpResponse:
    return HttpResponse(
        pdf,
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )
