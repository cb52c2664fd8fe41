"""Private addresses at which a phone reads the calendar. A token is told once; what is kept is only
its fingerprint."""

import hashlib
import secrets
from datetime import datetime, timedelta

from django.conf import settings
from django.contrib.auth.models import User
from django.urls import reverse

from decor.calendar.ics import feed_ics
from decor.calendar.moments import local_day
from decor.calendar.sources import events_between
from decor.models import CalendarFeed, CrewMember
from decor.models.crew import Role

TOKEN_BYTES = 32  # 256 bits: nobody guesses one, so a plain fast hash of it is enough
BACK = timedelta(days=60)
AHEAD = timedelta(days=400)
# A phone that asks each minute need not be written down each minute.
READ_AGAIN = timedelta(hours=1)


def feed_make(*, user: User, label: str, now: datetime) -> tuple[CalendarFeed, str]:
    """The token can be read here and never again."""
    token = secrets.token_urlsafe(TOKEN_BYTES)
    feed = CalendarFeed.objects.create(
        user=user, label=label.strip(), token_sha256=_sha256(token), made_at=now
    )
    return feed, token


def feed_revoke(*, feed: CalendarFeed, now: datetime) -> None:
    """From now on its address opens nothing. Revoking twice changes nothing."""
    CalendarFeed.objects.filter(pk=feed.pk, revoked_at=None).update(revoked_at=now)
    feed.refresh_from_db()


def feed_of_token(token: str) -> CalendarFeed | None:
    """None too where it was revoked, or where its user may not log in any more."""
    feeds = CalendarFeed.objects.select_related("user").filter(revoked_at=None)
    feed = feeds.filter(token_sha256=_sha256(token), user__is_active=True).first()
    left = feed and CrewMember.objects.filter(user=feed.user, archived_at__isnull=False).exists()
    return None if left else feed


def feed_read(feed: CalendarFeed, *, now: datetime) -> bytes:
    """What is called off is in it too, so that calendars that have it learn of it."""
    if feed.last_read_at is None or now - feed.last_read_at > READ_AGAIN:
        CalendarFeed.objects.filter(pk=feed.pk).update(last_read_at=now)
    today = local_day(now)
    first, last = today - BACK, today + AHEAD
    is_helper = CrewMember.objects.filter(user=feed.user, role=Role.HELPER).exists()
    events = events_between(first, last)
    return feed_ics(events, first=first, last=last, for_owner=not is_helper)


def feed_url(token: str) -> str:
    """Absolute, for another device. It must not follow the host that a request names."""
    return f"{settings.SITE_URL}{reverse('calendar_feed', args=[token])}"


def _sha256(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
