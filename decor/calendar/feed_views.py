from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from decor.calendar.feeds import feed_make, feed_of_token, feed_read, feed_revoke, feed_url
from decor.form_layout import form_helper
from decor.models import CalendarFeed
from decor.throttle.addresses import address_of, network_of
from decor.throttle.service import too_often

MADE = "The address is made."
REVOKED = "That address opens nothing any more."
# A household of phones, each once in ten minutes, stays far below this.
MOST, IN_SECONDS = 120, 3600


class FeedForm(forms.Form):
    label = forms.CharField(
        label="What for",
        max_length=60,
        help_text="So that you know it again: “my phone”.",
    )

    helper = form_helper("label", submit="Make an address", keep="calendar-feed")


@never_cache
@require_http_methods(["GET", "POST"])
def calendar_feeds(request: HttpRequest) -> HttpResponse:
    """A new address stands in the answer itself and not after a redirect: so it is kept nowhere."""
    form, address = FeedForm(request.POST or None), ""
    if request.method == "POST" and form.is_valid():
        _, token = feed_make(
            user=request.user, label=form.cleaned_data["label"], now=timezone.now()
        )
        form, address = FeedForm(), feed_url(token)
        messages.success(request, MADE, extra_tags="keep:calendar-feed")
    feeds = request.user.calendar_feeds.filter(revoked_at=None)
    context = {"form": form, "address": address, "feeds": feeds}
    status = 422 if form.is_bound else 200
    return render(request, "decor/calendar/feeds.html", context, status=status)


@require_http_methods(["GET", "POST"])
def calendar_feed_revoke(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks first: a phone that follows it must be told a new one."""
    feed = get_object_or_404(CalendarFeed, pk=pk, user=request.user)
    if request.method == "GET":
        return render(request, "decor/calendar/feed_revoke.html", {"feed": feed})
    feed_revoke(feed=feed, now=timezone.now())
    messages.success(request, REVOKED)
    return redirect("calendar_feeds")


@login_not_required
@require_safe
def calendar_feed(request: HttpRequest, token: str) -> HttpResponse:
    """The address alone opens it: it must not be kept in between, nor found by a search."""
    now = timezone.now()
    caller = network_of(address_of(request))
    if too_often(key=f"calendar-feed {caller}", most=MOST, seconds=IN_SECONDS, now=now):
        return HttpResponse(status=429, headers={"Retry-After": str(IN_SECONDS)})
    feed = feed_of_token(token)
    if feed is None:
        raise Http404
    return HttpResponse(
        feed_read(feed, now=now),
        content_type="text/calendar; charset=utf-8",
        headers={
            "Content-Disposition": 'inline; filename="garlands.ics"',
            "Cache-Control": "private, no-store",
            "X-Robots-Tag": "noindex",
        },
    )
