"""Makers of test rows: fixed values, and parts that belong together by default."""

from datetime import UTC, date, datetime, time
from typing import Any

import factory
from django.contrib.auth import get_user_model

from decor.models import Business, Client, Job, Site
from inventory.models import Bag, Colour, Delivery, Item, LedgerLine, Supplier
from inventory.models.item import Kind
from quoting.estimator import example_rates, rates_to_dict
from quoting.models import ExtraLine, Piece, Quote, RateCard


class UserFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = get_user_model()
        django_get_or_create = ("username",)

    username = "nell"
    first_name = "Nell"
    last_name = "Okafor-Hart"
    password = factory.django.Password("six-oat-balloons")


class BusinessFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Business
        django_get_or_create = ("pk",)

    pk = Business.THE_ONE
    name = "Larkspur Lane Garlands"
    owner_name = "Nell Okafor-Hart"
    email = "nell@larkspurlane.example"
    phone = "(207) 555-0101"
    timezone = "America/New_York"


class ClientFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Client

    name = "Wexcombe Bay Library"
    email = "reading@wexcombebay.example"
    phone = "(207) 555-0142"


class SiteFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Site

    client = factory.SubFactory(ClientFactory)
    name = "Library porch"
    address = "2 Harbour Street, Wexcombe Bay"


class JobFactory(factory.django.DjangoModelFactory):
    """A job whose place is its client's, a week after the `today` of the tests."""

    class Meta:
        model = Job

    client = factory.SubFactory(ClientFactory)
    site = factory.SubFactory(SiteFactory, client=factory.SelfAttribute("..client"))
    title = "Reading-week arch"
    event_on = date(2026, 6, 20)
    event_time = time(14, 0)


class ColourFactory(factory.django.DjangoModelFactory):
    """A colour of which nothing is bought yet: see ItemFactory."""

    class Meta:
        model = Colour
        django_get_or_create = ("key",)

    key = "fern"
    name = factory.LazyAttribute(lambda colour: colour.key.capitalize())
    hex = "#5e7f57"


class ItemFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Item

    kind = Kind.LATEX
    colour = factory.SubFactory(ColourFactory)
    nominal_in = 11
    bag_count = 100
    bag_cents = 1650


class SundryFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Item

    kind = Kind.SUNDRY
    name = "rubber band"
    bag_count = 500
    bag_cents = 400


class SupplierFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Supplier
        django_get_or_create = ("name",)

    name = "Quayside Balloon Supply"
    lead_days = 5
    smallest_order_cents = 4000
    delivery_cents = 895


class DeliveryFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Delivery

    supplier = factory.SubFactory(SupplierFactory)
    note_number = factory.Sequence(lambda n: f"N-{501 + n}")
    received_on = date(2026, 4, 2)


class BagFactory(factory.django.DjangoModelFactory):
    """A sealed, full bag, received by a line of the ledger. Lines after that: the ledger's own."""

    class Meta:
        model = Bag
        skip_postgeneration_save = True

    item = factory.SubFactory(ItemFactory)
    delivery = factory.SubFactory(
        DeliveryFactory, received_on=factory.SelfAttribute("..received_on")
    )
    lot = "A1"
    received_on = date(2026, 4, 2)
    printed_count = factory.SelfAttribute("item.bag_count")
    cost_cents = factory.SelfAttribute("item.bag_cents")
    place = "Cupboard"

    @factory.post_generation
    def received(bag, create: bool, extracted: None, **kwargs: None) -> None:
        at = datetime.combine(bag.received_on, time(12), tzinfo=UTC)
        LedgerLine.objects.create(bag=bag, kind="received", quantity=bag.printed_count, at=at)
        bag.refresh_from_db()


class RateCardFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = RateCard
        django_get_or_create = ("version",)

    version = 1
    starts_on = date(2026, 1, 1)
    rates = factory.LazyFunction(lambda: rates_to_dict(example_rates()))
    terms = "The day is kept for you once the deposit has arrived.\nGarlands last one day."


class QuoteFactory(factory.django.DjangoModelFactory):
    """A draft with nothing on it."""

    class Meta:
        model = Quote

    number = factory.Sequence(lambda n: f"LL-{1001 + n}")
    job = factory.SubFactory(JobFactory)
    rate_card = factory.SubFactory(RateCardFactory)
    terms = factory.SelfAttribute("rate_card.terms")
    expires_on = date(2026, 6, 19)


class PieceFactory(factory.django.DjangoModelFactory):
    """An arch over a door in oat and fern; the colours must be in the catalogue to price it."""

    class Meta:
        model = Piece

    quote = factory.SubFactory(QuoteFactory)
    position = factory.Sequence(lambda n: n)
    title = "Garland over the door"
    spec = factory.LazyFunction(lambda: arch_spec())


class ExtraLineFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = ExtraLine

    quote = factory.SubFactory(QuoteFactory)
    label = "Hired oak backdrop"
    quantity = 1
    unit_cents = 6500


def arch_spec(*, width_m: float = 2.4, height_m: float = 2.1) -> dict[str, Any]:
    """In the spec file's format."""
    return {
        "version": 1,
        "path": {"kind": "arch", "width_m": width_m, "height_m": height_m},
        "width": [[0.0, 0.4], [0.5, 0.7], [1.0, 0.4]],
        "base": [{"colour": "oat", "share": 0.6}, {"colour": "fern", "share": 0.4}],
        "sizes": [
            {"nominal_in": 11, "inflated_in": [6, 10], "share": 0.75},
            {"nominal_in": 17, "inflated_in": [12, 15], "share": 0.25},
        ],
    }
