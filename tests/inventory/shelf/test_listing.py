"""What is on the shelf, and how old."""

from datetime import UTC, date, datetime

import pytest

from inventory.bags.age import Age, BestBefore, best_before
from inventory.ledger.service import bag_throw_away
from inventory.models import Item, ShelfSettings
from inventory.shelf.listing import by_colour, places_listed, shelf_items
from tests.factories import BagFactory, ColourFactory, ItemFactory, SundryFactory

TODAY = date(2026, 6, 13)
NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)
BEST = BestBefore(18, TODAY)


@pytest.fixture
def fern(db):
    return ItemFactory()


@pytest.mark.parametrize(
    ("received_on", "age"),
    [
        (date(2024, 12, 12), Age.PAST_BEST),
        (date(2024, 12, 13), Age.USE_SOON),
        (date(2025, 3, 12), Age.USE_SOON),
        (date(2025, 3, 13), Age.FRESH),
        (TODAY, Age.FRESH),
    ],
)
def test_latex_is_best_for_a_year_and_a_half(fern, received_on, age):
    """Eighteen months: from memory."""
    assert BEST.age_of(fern, received_on) == age


@pytest.mark.parametrize(
    ("received_on", "months", "best_until"),
    [
        (date(2025, 8, 31), 18, date(2027, 2, 28)),
        (date(2026, 8, 31), 18, date(2028, 2, 29)),
        (date(2025, 12, 1), 1, date(2026, 1, 1)),
        (date(2025, 1, 31), 12, date(2026, 1, 31)),
    ],
)
def test_months_end_with_the_month(received_on, months, best_until):
    assert BestBefore(months, TODAY).day_of(received_on) == best_until


def test_sundries_and_foil_do_not_grow_old(db):
    long_ago = date(2019, 1, 1)
    assert BEST.age_of(SundryFactory(), long_ago) == Age.FRESH
    assert BEST.age_of(ItemFactory(kind="foil", nominal_in=None), long_ago) == Age.FRESH


def test_the_owner_may_set_how_long(db):
    assert best_before(today=TODAY).months == 18
    ShelfSettings.objects.create(pk=1, latex_best_months=12)
    assert best_before(today=TODAY).months == 12


def test_an_item_adds_up_its_bags_and_names_its_places(fern):
    BagFactory(item=fern, printed_count=100, place="Box 3", received_on=date(2024, 3, 1))
    BagFactory(item=fern, printed_count=50, place="Cupboard")
    empty = BagFactory(item=fern, printed_count=30, place="Attic")
    bag_throw_away(bag=empty, why="wet", by=None, now=NOW)

    (shown,) = shelf_items(best=BEST)

    assert (shown.left, shown.bags, shown.open_bags) == (150, 2, 0)
    assert (shown.past_best, shown.places) == (100, {"Box 3", "Cupboard"})


def test_what_is_on_offer_is_shown_though_none_is_left_and_the_archived_only_while_some_is(fern):
    gone = ItemFactory(nominal_in=5, archived_at=NOW)
    some = ItemFactory(nominal_in=17, archived_at=NOW)
    BagFactory(item=some)

    assert {shown.item for shown in shelf_items(best=BEST)} == {fern, some}
    assert gone in Item.objects.all()


@pytest.mark.parametrize(
    ("search", "found"),
    [
        ("fern", ["Fern 11-inch"]),
        ("FERN 11", ["Fern 11-inch"]),
        ("box", ["Fern 11-inch"]),
        ("band", ["rubber band"]),
        ("fern band", []),
        ("", ["Fern 11-inch", "rubber band"]),
    ],
)
def test_a_search_looks_at_names_and_places(fern, search, found):
    BagFactory(item=fern, place="Box 3")
    SundryFactory()
    assert [str(shown.item) for shown in shelf_items(search=search, best=BEST)] == found


def test_balloons_stand_by_colour_and_size(fern):
    for key, size in (("fern", 5), ("plum", 24), ("plum", 5)):
        ItemFactory(colour=ColourFactory(key=key), nominal_in=size)
    ItemFactory(kind="foil", nominal_in=None, colour=ColourFactory(key="plum"))
    SundryFactory()

    colours, sundries = by_colour(shelf_items(best=BEST))

    assert [[str(each.item) for each in colour.items] for colour in colours] == [
        ["Fern 5-inch", "Fern 11-inch"],
        ["Plum 5-inch", "Plum 24-inch", "Plum starburst points"],
    ]
    assert [str(each.item) for each in sundries] == ["rubber band"]


def test_places_are_listed_with_those_unplaced_at_the_end(fern):
    for place in ("cupboard", "", "Attic", "Attic"):
        BagFactory(item=fern, place=place)
    assert [(place.name, place.bags) for place in places_listed()] == [
        ("Attic", 2),
        ("cupboard", 1),
        ("", 1),
    ]


def test_the_shelf_asks_two_questions_however_full(fern, django_assert_num_queries):
    BagFactory(item=fern)
    with django_assert_num_queries(2):
        shelf_items(best=BEST)
    for size in (5, 17, 24):
        item = ItemFactory(nominal_in=size)
        for _ in range(4):
            BagFactory(item=item)
    with django_assert_num_queries(2):
        assert sum(shown.left for shown in shelf_items(best=BEST)) == 1300
