from datetime import UTC, datetime, timedelta

import pytest

from decor.models import Visit
from decor.models.business import Business
from decor.models.job import Stage
from decor.models.located import Coordinates
from inventory.catalogue.starter import add_starter_catalogue
from inventory.models import Kit, KitHold
from quoting.models import Quote
from tests.factories import JobFactory, PieceFactory, QuoteFactory

NOW = datetime(2026, 6, 19, 12, 0, tzinfo=UTC)


@pytest.fixture
def quote(business: Business) -> Quote:
    """An arch on a porch outdoors, promised for 20 June 2026, with the place on the map."""
    add_starter_catalogue()
    quote = QuoteFactory(job=JobFactory(stage=Stage.PROMISED))
    piece = PieceFactory(quote=quote)
    piece.spec |= {
        "accents": [{"colour": "marigold", "inflated_in": [6, 9], "share": 0.08, "bunch": 4}],
        "singles": {"per_m": 0.6, "colours": ["oat"]},
        "site": {"outdoor": True, "height_m": 2.6, "made_at_c": 21, "site_c": 20, "gust_mps": 0},
    }
    piece.save()
    site = quote.job.site
    site.is_outdoor = True
    site.coordinates = Coordinates(43.66, -70.26)
    site.contact_name, site.contact_phone = "Ottilie at the desk", "(207) 555-0177"
    site.access_note, site.parking_note = "Ring at the side door.", "Two places behind the hall."
    site.save()
    KitHold.objects.create(
        job=quote.job,
        kit=Kit.objects.create(name="Tall stand", count=4),
        quantity=2,
        from_on=NOW.date(),
        until_on=NOW.date() + timedelta(days=2),
        placed_at=NOW,
    )
    return quote


@pytest.fixture
def install(quote: Quote) -> Visit:
    return visit_of(quote, "install", day=20)


def visit_of(quote: Quote, kind: str, *, day: int) -> Visit:
    """From 9 to 11.30 in the business's own zone, New York."""
    return Visit.objects.create(
        job=quote.job,
        kind=kind,
        starts_at=datetime(2026, 6, day, 13, 0, tzinfo=UTC),
        ends_at=datetime(2026, 6, day, 15, 30, tzinfo=UTC),
        changed_at=NOW,
    )
