"""How often someone may come: a count for each key and window of time, kept in the database."""

from datetime import UTC, datetime, timedelta

from django.db.models import F

from decor.models import RateCount

# Longer than any window is. After that nobody needs to know who came from where.
KEPT = timedelta(days=1)


def too_often(*, key: str, most: int, seconds: int, now: datetime) -> bool:
    """Counts this time too, unless it is one too many. Windows lie end to end from a fixed hour,
    so that around the end of one up to twice as many may come."""
    window = _window_start(seconds, now)
    count, is_new = RateCount.objects.get_or_create(key=key, window_starts_at=window)
    if is_new:
        RateCount.objects.filter(window_starts_at__lt=now - KEPT).delete()
    counted = RateCount.objects.filter(pk=count.pk, count__lt=most).update(count=F("count") + 1)
    return not counted


def is_past(*, key: str, most: int, seconds: int, now: datetime) -> bool:
    """Whether `most` times were counted already. Counts nothing itself."""
    window = _window_start(seconds, now)
    return RateCount.objects.filter(key=key, window_starts_at=window, count__gte=most).exists()


def _window_start(seconds: int, now: datetime) -> datetime:
    epoch = int(now.timestamp())
    return datetime.fromtimestamp(epoch - epoch % seconds, tz=UTC)
