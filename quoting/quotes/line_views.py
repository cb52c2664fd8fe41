from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from quoting.models import ExtraLine
from quoting.quotes.extra_lines import extra_line_add, extra_line_edit, extra_line_remove
from quoting.quotes.forms import ExtraLineForm
from quoting.quotes.service import QuoteRefused
from quoting.quotes.views import SAVED, form_page, quote_at

REMOVED = "{label} is off the quote."


@require_http_methods(["GET", "POST"])
def quote_line_new(request: HttpRequest, quote_pk: int) -> HttpResponse:
    quote = quote_at(quote_pk)
    form = ExtraLineForm(request.POST or None, quote=quote, business=request.business)
    if request.method == "POST" and form.is_valid():
        try:
            extra_line_add(quote=quote, **form.cleaned_data)
        except QuoteRefused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, SAVED, extra_tags=f"keep:line-of-{quote_pk}")
            return redirect("quote_detail", pk=quote_pk)
    return form_page(request, form, quote, "quoting/quotes/quote_line.html")


@require_http_methods(["GET", "POST"])
def quote_line_edit(request: HttpRequest, pk: int) -> HttpResponse:
    line = get_object_or_404(ExtraLine, pk=pk)
    quote = quote_at(line.quote_id)
    form = ExtraLineForm(request.POST or None, quote=quote, business=request.business, line=line)
    if request.method == "POST" and form.is_valid():
        extra_line_edit(line=line, **form.cleaned_data)
        messages.success(request, SAVED, extra_tags=f"keep:line-{pk}")
        return redirect("quote_detail", pk=quote.pk)
    return form_page(request, form, quote, "quoting/quotes/quote_line.html")


@require_http_methods(["GET", "POST"])
def quote_line_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks first."""
    line = get_object_or_404(ExtraLine, pk=pk)
    quote = quote_at(line.quote_id)
    if request.method == "POST":
        extra_line_remove(line=line)
        messages.success(request, REMOVED.format(label=line.label))
        return redirect("quote_detail", pk=quote.pk)
    context = {"line": line, "quote": quote}
    return render(request, "quoting/quotes/quote_line_remove.html", context)
