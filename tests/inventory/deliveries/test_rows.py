"""A row of a delivery as people type it."""

import pytest

from inventory.deliveries.forms import row_reader
from inventory.deliveries.items import SEVERAL, UNKNOWN, ItemUnclear, items_by_name
from inventory.deliveries.rows import ITEM_MISSING, MONEY, MONEY_UNCLEAR, RowReader
from inventory.models import Item, SupplierBag
from tests.factories import ItemFactory, SupplierFactory


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Fern 11-inch", "Fern 11-inch"),
        ("fern 11", "Fern 11-inch"),
        ("  FERN 5 ", "Fern 5-inch"),
        ("5 plum", "Plum 5-inch"),
        ('plum 11"', "Plum 11-inch"),
        ("ｐｌｕｍ １１", "Plum 11-inch"),
        ("rib", "curling ribbon"),
        ("band", "rubber band"),
    ],
)
def test_part_of_a_name_is_enough(items, typed, name):
    assert items_by_name().meant(typed) == items[name]


def test_a_name_that_could_be_several_says_which(items):
    with pytest.raises(ItemUnclear) as unclear:
        items_by_name().meant("fern")
    assert str(unclear.value) == SEVERAL.format(names="Fern 5-inch or Fern 11-inch")
    for size in (17, 24, 36):
        ItemFactory(colour=items["Fern 5-inch"].colour, nominal_in=size)
    with pytest.raises(ItemUnclear, match="Fern 24-inch or 1 more"):
        items_by_name().meant("fern")


@pytest.mark.parametrize("typed", ["moss", "fern 7", "-", "11-inch of nothing"])
def test_a_name_that_is_none_says_so(items, typed):
    with pytest.raises(ItemUnclear, match=UNKNOWN):
        items_by_name().meant(typed)


def test_what_is_archived_cannot_be_received(items):
    Item.objects.filter(name="rubber band").update(archived_at="2026-01-01T00:00Z")
    with pytest.raises(ItemUnclear):
        items_by_name().meant("rubber band")


def test_an_empty_cell_is_the_usual(reader: RowReader):
    row = reader.read(1, {"item": "fern 11"}).row

    assert (row.printed_count, row.bags, row.cost_cents) == (100, 1, 1650)
    assert (row.lot, row.place, row.note) == ("", "", "")


def test_the_suppliers_own_bag_is_the_usual_one_where_there_is_just_one(items):
    supplier = SupplierFactory(name="Millbrook Party Wholesale")
    fern, plum = items["Fern 11-inch"], items["Plum 11-inch"]
    for item, count in ((fern, 500), (plum, 500), (plum, 50)):
        SupplierBag.objects.create(supplier=supplier, item=item, bag_count=count, bag_cents=7000)

    reader = row_reader(supplier.pk)

    assert reader.read(1, {"item": "fern 11"}).row.printed_count == 500
    assert reader.read(2, {"item": "plum 11"}).row.printed_count == 100


def test_the_place_is_copied_down_until_another_is_said(reader: RowReader):
    places = [
        reader.read(number, {"item": "fern 5", "place": place}).row.place
        for number, place in enumerate(["", "Box 3", "", " ", "Attic", "", "None", ""])
    ]
    assert places == ["", "Box 3", "Box 3", "Box 3", "Attic", "Attic", "", ""]


@pytest.mark.parametrize(
    ("typed", "cents"),
    [("16.50", 1650), ("16,50", 1650), ("16", 1600), ("$16.5", 1650), ("€ 0,05", 5), ("0", 0)],
)
def test_a_cost_may_have_a_point_or_a_comma(reader: RowReader, typed, cents):
    assert reader.read(1, {"item": "fern 5", "cost": typed}).row.cost_cents == cents


@pytest.mark.parametrize(
    ("column", "typed", "told"),
    [
        ("item", "", ITEM_MISSING),
        ("cost", "1,234", MONEY_UNCLEAR),
        ("cost", "1.234,50", MONEY_UNCLEAR),
        ("cost", "-3", MONEY),
        ("cost", "16.505", MONEY_UNCLEAR),
        ("cost", "twelve", MONEY),
        ("cost", "١٢", MONEY),
        ("cost", "999999999", "No bag costs that much: an amount up to 100000.00."),
        ("count", "0", "A whole number from 1 to 100,000."),
        ("count", "-5", "A whole number from 1 to 100,000."),
        ("count", "12.5", "A whole number from 1 to 100,000."),
        ("count", "1,000", "A whole number from 1 to 100,000."),
        ("count", "٣", "A whole number from 1 to 100,000."),
        ("count", "9" * 40, "A whole number from 1 to 100,000."),
        ("bags", "201", "A whole number from 1 to 200."),
        ("lot", "x" * 41, "At most 40 letters."),
        ("place", "x" * 61, "At most 60 letters."),
        ("note", "x" * 301, "At most 300 letters."),
    ],
)
def test_what_is_wrong_is_told_beside_its_cell(reader: RowReader, column, typed, told):
    read = reader.read(7, {"item": "fern 5", column: typed})

    assert (read.number, read.row, dict(read.problems)) == (7, None, {column: told})
    assert read.typed[column] == typed
