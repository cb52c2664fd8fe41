"""Gathers what bears on a piece besides what is typed: the shelf, the rates, the place."""

from datetime import date

from decor.models import Business
from inventory.catalogue.service import estimator_catalogue
from quoting.models import Quote
from quoting.pieces.reading import Surroundings
from quoting.quotes.pricing import order_conditions


def surroundings_of(quote: Quote, *, business: Business, today: date) -> Surroundings:
    """The place's own spot on the map, else that of the business, which is seldom far."""
    job, site = quote.job, quote.job.site
    return Surroundings(
        units=business.units,
        catalogue=estimator_catalogue(),
        offered=estimator_catalogue(with_archived=False),
        rates=quote.rate_card.as_rates(),
        conditions=order_conditions(quote, today=today),
        site_pk=site.pk if site else None,
        site_name=site.name if site else "",
        site_is_outdoor=bool(site and site.is_outdoor),
        coordinates=(site.coordinates if site else None) or business.coordinates,
        timezone=business.timezone,
        event_on=job.event_on,
    )
