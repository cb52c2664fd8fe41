"""A small invented catalogue, so that an estimate can be made with no shelf at all."""

from decimal import Decimal
from functools import cache
from typing import Final

from .catalogue import Catalogue, CatalogueItem, SundryItem

_COLOURS: Final = (
    ("oat", "Oat", "#E8DCC6"),
    ("fern", "Fern", "#5E7F57"),
    ("marigold", "Marigold", "#F2A71B"),
    ("copper", "Copper", "#B4693D"),
    ("tidewater", "Tidewater", "#3F7C8C"),
    ("plum", "Plum", "#6B3A5B"),
)
# Nominal inches, balloons a bag, cents a bag
_BAGS: Final = ((5.0, 100, 950), (11.0, 100, 1650), (17.0, 50, 2400), (24.0, 10, 1750))
_FOIL_BAG: Final = (60, 2400)
_SPECIAL_ORDER: Final = frozenset({("plum", 24.0)})
_SUNDRIES: Final = (
    ("rubber band", "each", "0.8"),
    ("modelling balloon", "each", "9"),
    ("fishing line", "m", "4"),
    ("curling ribbon", "m", "6"),
    ("packing bag", "each", "45"),
)


@cache
def example_catalogue() -> Catalogue:
    latex = tuple(
        CatalogueItem(
            colour=colour,
            name=name,
            kind="latex",
            nominal_in=nominal,
            bag_count=count,
            bag_cents=cents,
            hex=hex_value,
            special_order=(colour, nominal) in _SPECIAL_ORDER,
        )
        for colour, name, hex_value in _COLOURS
        for nominal, count, cents in _BAGS
    )
    sundries = tuple(
        SundryItem(item=item, unit=unit, unit_cents=Decimal(cents))
        for item, unit, cents in _SUNDRIES
    )
    return Catalogue(items=(*latex, _copper_points()), sundries=sundries)


def _copper_points() -> CatalogueItem:
    count, cents = _FOIL_BAG
    return CatalogueItem(
        colour="copper",
        name="Copper starburst points",
        kind="foil",
        nominal_in=None,
        bag_count=count,
        bag_cents=cents,
        hex="#B4693D",
    )
