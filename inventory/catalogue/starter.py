"""A catalogue to start from: colours and prices of our own, for the owner to replace."""

from dataclasses import dataclass

from django.db import transaction

from inventory.catalogue.service import FOIL, BagPrice, Bags
from inventory.models import Colour, Item
from inventory.models.item import Finish, Kind

LATEX_BAGS: Bags = {
    5: BagPrice(count=100, cents=950),
    11: BagPrice(count=100, cents=1650),
    17: BagPrice(count=50, cents=2400),
    24: BagPrice(count=10, cents=1750),
}
FOIL_BAGS: Bags = {FOIL: BagPrice(count=60, cents=2400)}


@dataclass(frozen=True, kw_only=True)
class StarterColour:
    key: str
    name: str
    hex: str
    finish: Finish = Finish.PLAIN
    bags: Bags


STARTER_COLOURS = (
    StarterColour(key="washday", name="Washday", hex="#f7f6f1", bags=LATEX_BAGS),
    StarterColour(key="oat", name="Oat", hex="#e8dcc6", bags=LATEX_BAGS),
    StarterColour(key="gosling", name="Gosling", hex="#f4e2a1", bags=LATEX_BAGS),
    StarterColour(key="marigold", name="Marigold", hex="#f2a71b", bags=LATEX_BAGS),
    StarterColour(
        key="copper",
        name="Copper",
        hex="#b4693d",
        finish=Finish.SHINY,
        bags={**LATEX_BAGS, **FOIL_BAGS},
    ),
    StarterColour(key="cockle", name="Cockle", hex="#ecc7bb", bags=LATEX_BAGS),
    StarterColour(key="rosehip", name="Rosehip", hex="#b9402f", bags=LATEX_BAGS),
    StarterColour(key="plum", name="Plum", hex="#6b3a5b", bags=LATEX_BAGS),
    StarterColour(key="fern", name="Fern", hex="#5e7f57", bags=LATEX_BAGS),
    StarterColour(key="tidewater", name="Tidewater", hex="#3f7c8c", bags=LATEX_BAGS),
    StarterColour(key="inkwell", name="Inkwell", hex="#28324d", bags=LATEX_BAGS),
    StarterColour(key="doorstep", name="Doorstep", hex="#9a9891", bags=LATEX_BAGS),
)
# Name, unit, how many or how many metres in a bag or on a roll, cents
STARTER_SUNDRIES = (
    ("rubber band", "each", 500, 400),
    ("modelling balloon", "each", 100, 900),
    ("fishing line", "m", 100, 400),
    ("curling ribbon", "m", 100, 600),
    ("packing bag", "each", 20, 900),
)


@transaction.atomic
def add_starter_catalogue() -> int:
    """Adds what is not there and touches nothing that is. Says how many colours it added."""
    known = set(Colour.objects.values_list("key", flat=True))
    names = {name.casefold() for name in Colour.objects.values_list("name", flat=True)}
    missing = [
        colour
        for colour in STARTER_COLOURS
        if colour.key not in known and colour.name.casefold() not in names
    ]
    _add_colours(missing)
    _add_sundries()
    return len(missing)


def _add_colours(missing: list[StarterColour]) -> None:
    made = Colour.objects.bulk_create(
        Colour(key=colour.key, name=colour.name, hex=colour.hex, finish=colour.finish)
        for colour in missing
    )
    Item.objects.bulk_create(
        Item(
            kind=Kind.FOIL if size is FOIL else Kind.LATEX,
            colour=colour,
            nominal_in=size,
            bag_count=bag.count,
            bag_cents=bag.cents,
        )
        for colour, starter in zip(made, missing, strict=True)
        for size, bag in starter.bags.items()
    )


def _add_sundries() -> None:
    known = set(Item.objects.filter(kind=Kind.SUNDRY).values_list("name", flat=True))
    Item.objects.bulk_create(
        Item(kind=Kind.SUNDRY, name=name, unit=unit, bag_count=count, bag_cents=cents)
        for name, unit, count, cents in STARTER_SUNDRIES
        if name not in known
    )
