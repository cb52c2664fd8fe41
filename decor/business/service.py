"""The one business and what it has chosen."""

from decor.models import Business


def the_business() -> Business | None:
    """The business, or None before the first run's questions have been answered."""
    return Business.objects.filter(pk=Business.THE_ONE).first()
