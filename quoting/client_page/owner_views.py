"""The owner's side of a client's page: its links, and what the client asked."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from quoting.client_page.links import link_make, link_revoke
from quoting.models import ClientLink, ClientQuestion
from quoting.promise.service import question_answered as mark_answered
from quoting.promise.service import question_open_again as mark_open
from quoting.quotes.views import quote_at

SEND_FIRST = "Send this quote first: its page shows what was sent."
REVOKED = "That link opens nothing any more."
ANSWERED = "Marked as answered."
OPEN_AGAIN = "It waits for an answer again."


@require_POST
def quote_link_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Shown on this page and never again, so that it lies nowhere."""
    quote = quote_at(pk)
    if not quote.editions.exists():
        messages.warning(request, SEND_FIRST)
        return redirect("quote_detail", pk=pk)
    _, token = link_make(quote=quote, by=request.user, now=timezone.now())
    path = reverse("client_page_open", args=[token])
    context = {"quote": quote, "address": request.build_absolute_uri(path)}
    response = render(request, "quoting/client_page/link_made.html", context)
    response["Cache-Control"] = "no-store"
    return response


@require_http_methods(["GET", "POST"])
def quote_link_revoke(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks first: a link cannot be given back."""
    link = get_object_or_404(ClientLink.objects.select_related("quote__job__client"), pk=pk)
    if request.method == "POST":
        link_revoke(link=link, now=timezone.now())
        messages.success(request, REVOKED)
        return redirect("quote_detail", pk=link.quote_id)
    context = {"link": link, "quote": link.quote}
    return render(request, "quoting/client_page/link_revoke.html", context)


@require_POST
def question_answered(request: HttpRequest, pk: int) -> HttpResponse:
    """Pressed again, it is open again."""
    question = get_object_or_404(ClientQuestion.objects.select_related("quote"), pk=pk)
    if "open" in request.POST:
        mark_open(question=question)
        messages.success(request, OPEN_AGAIN)
    else:
        mark_answered(question=question, now=timezone.now())
        messages.success(request, ANSWERED)
    return redirect(f"{reverse('job_detail', args=[question.quote.job_id])}#questions")
