import pytest

from inventory.models import Item
from quoting.covering.colours import colours_with_a_bag, free_by_colour, most_of_one_colour
from quoting.quotes.pricing import quote_priced
from tests.factories import PieceFactory
from tests.quoting.covering.conftest import NOW, stock

pytestmark = pytest.mark.django_db


def test_a_colour_has_enough_when_a_whole_bag_of_the_usual_size_is_free(quote, today):
    assert set(free_by_colour(quote.job, today=today).values()) == {0}
    stock(1, colour__key="fern")
    assert free_by_colour(quote.job, today=today)["fern"] == 100
    assert colours_with_a_bag(quote.job, today=today) == {"fern"}


def test_most_of_one_colour_is_what_the_recipe_says(quote, today):
    priced = quote_priced(quote, today=today)
    lines = priced.pieces[0].estimate.balloons
    said = {"catalogue": priced.catalogue, "rates": priced.rates}
    most = max(line.total for line in lines if line.nominal_in == 11)
    assert most_of_one_colour(quote.pieces.get(), **said) == most
    assert most_of_one_colour(PieceFactory(quote=quote, spec=None), **said) is None


def test_on_the_piece_page_those_with_enough_stand_first(owner_client, quote, time_machine):
    time_machine.move_to(NOW)
    stock(2, pk=Item.objects.get(colour__key="tidewater", nominal_in=11).pk)
    page = owner_client.get(f"/pieces/{quote.pieces.get().pk}/").content.decode()
    keys = [part.split('"')[0] for part in page.split('name="base" value="')[1:]]
    assert keys[0] == "tidewater"
    assert keys[1:] == sorted(keys[1:])
