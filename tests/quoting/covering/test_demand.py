from math import ceil

import pytest

from inventory.models import Item
from quoting.covering.demand import quote_demand
from quoting.quotes.pricing import quote_priced
from tests.factories import PieceFactory, arch_spec

pytestmark = pytest.mark.django_db


def demand_of(quote, today):
    return quote_demand(quote_priced(quote, today=today))


def test_balloons_are_asked_for_by_colour_and_size_spares_in(quote, today):
    priced = quote_priced(quote, today=today)
    lines = priced.pieces[0].estimate.balloons
    demand = quote_demand(priced)
    for line in lines:
        item = Item.objects.get(colour__key=line.colour, nominal_in=line.nominal_in)
        same = [o for o in lines if (o.colour, o.nominal_in) == (line.colour, line.nominal_in)]
        assert demand.quantities[item.pk] == sum(o.need + o.spare for o in same)


def test_two_pieces_are_one_demand_and_parts_of_metres_are_rounded_once(quote, today):
    one = demand_of(quote, today)
    PieceFactory(quote=quote)
    priced = quote_priced(quote, today=today)
    two = quote_demand(priced)
    ribbon = Item.objects.get(name="curling ribbon")
    metres = sum(
        s.quantity for p in priced.pieces for s in p.estimate.sundries if s.item == ribbon.name
    )
    for pk, quantity in one.quantities.items():
        if pk != ribbon.pk:
            assert two.quantities[pk] == 2 * quantity
    assert two.quantities[ribbon.pk] == ceil(round(metres, 6))


def test_of_variants_only_the_one_that_counts_is_asked_for(quote, today):
    before = demand_of(quote, today).quantities
    piece = quote.pieces.get()
    quote.pieces.filter(pk=piece.pk).update(choice=1, variant=1)
    PieceFactory(
        quote=quote,
        position=piece.position,
        choice=1,
        variant=2,
        counts=False,
        spec=arch_spec(width_m=5.0, height_m=3.0),
    )
    assert demand_of(quote, today).quantities == before


def test_a_sundry_that_is_not_in_the_catalogue_is_named_and_not_dropped(quote, today):
    Item.objects.filter(name="curling ribbon").delete()
    (missing,) = demand_of(quote, today).no_items
    assert (missing.name, missing.unit) == ("curling ribbon", "m")
    assert missing.quantity > 0


def test_a_piece_without_a_recipe_is_named(quote, today):
    piece = PieceFactory(quote=quote, spec=None, title="Something for the gate")
    assert demand_of(quote, today).unknown_pieces == (piece,)
