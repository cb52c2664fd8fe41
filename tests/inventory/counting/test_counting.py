"""Counting day: entered as one goes, taken up again, and written to the ledger at the end."""

from datetime import UTC, datetime

import pytest
from django.urls import reverse
from django.utils import timezone

from inventory.bags.service import bag_change
from inventory.counting.service import (
    FINISHED,
    CountRefused,
    count_enter,
    counting_finish,
    counting_rows,
    counting_start,
    countings_finished,
    places_to_count,
)
from inventory.ledger.reading import bag_problems
from inventory.ledger.service import SAY_WHY, BagRefused, bag_take, bag_throw_away
from inventory.models import Counting, LedgerLine
from tests.factories import BagFactory, ItemFactory, JobFactory
from tests.inventory.asking import queries_of
from tests.quoting.documents.reading import words_of

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)
LATER = datetime(2026, 6, 14, 9, 0, tzinfo=UTC)


@pytest.fixture
def item():
    return ItemFactory()


@pytest.fixture
def bags(item):
    return [BagFactory(item=item, lot=lot, place="Box 3") for lot in ("B1", "B2", "B3")]


@pytest.fixture
def counting(bags):
    return counting_start(place="Box 3", by=None, now=NOW)


def enter(counting, *counted: tuple) -> None:
    for bag, count in counted:
        count_enter(counting=counting, bag=bag, counted=count, now=NOW)


def finish(counting, reasons: dict | None = None) -> int:
    return counting_finish(counting=counting, reasons=reasons or {}, by=None, now=LATER)


def counted_lines() -> list[tuple]:
    lines = LedgerLine.objects.filter(kind="counted")
    return list(lines.values_list("bag__lot", "quantity", "why"))


def test_nothing_changes_before_the_place_is_finished(counting, bags):
    enter(counting, (bags[0], 90))
    assert counted_lines() == []
    bags[0].refresh_from_db()
    assert bags[0].left == 100


def test_differences_become_lines_with_their_reason_and_the_rest_says_when_it_was_counted(
    counting, bags
):
    enter(counting, (bags[0], 90), (bags[1], 100))

    assert finish(counting, {bags[0].pk: "popped and not written down"}) == 1

    assert counted_lines() == [("B1", -10, "popped and not written down"), ("B2", 0, "")]
    assert [bag.left for bag in refreshed(bags)] == [90, 100, 100]
    assert bag_problems() == []
    assert Counting.objects.get().finished_at == LATER


def test_a_difference_without_a_reason_holds_up_everything(counting, bags):
    enter(counting, (bags[0], 90), (bags[1], 80))

    with pytest.raises(CountRefused) as refused:
        finish(counting, {bags[0].pk: "miscounted", bags[1].pk: "  "})

    assert refused.value.problems == {bags[1].pk: SAY_WHY}
    assert refused.value.changed == []
    assert counted_lines() == []
    assert Counting.objects.get().finished_at is None


def test_counting_is_taken_up_where_it_was_left(counting, bags):
    enter(counting, (bags[0], 90))

    again = counting_start(place="Box 3", by=None, now=LATER)

    assert again == counting
    rows = {row.bag.lot: row.entry and row.entry.counted for row in counting_rows(again)}
    assert rows == {"B1": 90, "B2": None, "B3": None}
    (place,) = places_to_count()
    assert (place.name, place.bags, place.open, place.counted) == ("Box 3", 3, counting, 1)


def test_what_happens_between_counting_and_finishing_still_stands(counting, bags):
    enter(counting, (bags[0], 95))
    bag_take(bag=bags[0], quantity=20, job=JobFactory(), by=None, now=LATER)

    finish(counting, {bags[0].pk: "miscounted"})

    assert refreshed(bags)[0].left == 75


def test_a_count_that_no_longer_fits_is_asked_for_again(counting, bags):
    enter(counting, (bags[0], 95))
    bag_throw_away(bag=bags[0], why="wet", by=None, now=LATER)

    with pytest.raises(CountRefused, match="has changed since you counted it") as refused:
        finish(counting, {bags[0].pk: "miscounted"})

    assert refused.value.changed == [bags[0]]


def test_a_bag_that_moved_while_it_was_counted_is_not_forgotten(counting, bags):
    enter(counting, (bags[0], 95))
    bag_change(bag=bags[0], lot="B1", place="Attic", note="")
    bag_change(bag=bags[1], lot="B2", place="Attic", note="")

    assert [row.bag.lot for row in counting_rows(counting)] == ["B1", "B3"]


@pytest.mark.parametrize("count", [-1, 101])
def test_a_count_that_cannot_be_is_refused(counting, bags, count):
    with pytest.raises(BagRefused):
        enter(counting, (bags[0], count))
    assert not counting.counted_bags.exists()


def test_a_finished_count_is_finished(counting, bags):
    enter(counting, (bags[0], 100))
    finish(counting)

    with pytest.raises(BagRefused, match=FINISHED):
        enter(counting, (bags[0], 90))
    with pytest.raises(BagRefused, match=FINISHED):
        finish(counting)
    assert counting_start(place="Box 3", by=None, now=LATER) != counting
    (before,) = countings_finished()
    assert (before.counted, before.differed) == (1, 0)


# ---- By phone ----


@pytest.fixture
def page(counting):
    return reverse("counting_detail", args=[counting.pk])


@pytest.fixture
def end(counting):
    return reverse("counting_end", args=[counting.pk])


def typed(*counted: tuple) -> dict[str, str]:
    return {f"count_{bag.pk}": count for bag, count in counted}


def test_a_place_is_begun_from_the_list(owner_client, bags):
    listed = owner_client.get(reverse("counting_list")).text
    assert "Box 3" in listed and "3 bags" in listed

    reply = owner_client.post(reverse("counting_begin"), {"place": "Box 3"})
    again = owner_client.post(reverse("counting_begin"), {"place": "Box 3"})

    counting = Counting.objects.get()
    assert reply.url == again.url == reverse("counting_detail", args=[counting.pk])
    assert "begun" in owner_client.get(reverse("counting_list")).text
    owner_client.post(reverse("counting_begin"), {"place": "Moon"})
    assert Counting.objects.count() == 1


def test_without_scripts_a_count_is_entered_and_finished(owner_client, owner, page, end, bags):
    reply = owner_client.post(page, typed((bags[0], "90"), (bags[1], "100"), (bags[2], "")))
    assert reply.url == end
    shown = owner_client.get(end).text
    assert "The ledger said 100, you counted 90: <strong>10 fewer</strong>" in shown
    assert "1 bag is as the ledger says" in shown and "1 bag was not counted" in shown

    refused = owner_client.post(end, {f"why_{bags[0].pk}": ""})
    assert (refused.status_code, SAY_WHY in refused.text) == (422, True)
    done = owner_client.post(end, {f"why_{bags[0].pk}": "miscounted"}, follow=True)

    assert "Box 3 is counted. 1 differed, and the ledger is set right." in done.text
    assert LedgerLine.objects.get(quantity=-10).by == owner
    assert "1 differed" in done.text and "2 bags" in done.text


def test_each_number_is_kept_as_soon_as_it_is_typed(owner_client, page, counting, bags):
    said = owner_client.post(page, typed((bags[0], "90")), headers={"HX-Request": "true"})

    assert said.status_code == 200
    assert f'id="state-{bags[0].pk}"' in said.text and "10 fewer" in said.text
    assert f'id="state-{bags[1].pk}"' not in said.text
    assert "1 of 3 counted" in said.text
    assert counting.counted_bags.get().counted == 90
    assert 'value="90"' in owner_client.get(page).text


def test_a_number_taken_back_is_not_counted(owner_client, page, counting, bags):
    owner_client.post(page, typed((bags[0], "90")), headers={"HX-Request": "true"})
    owner_client.post(page, typed((bags[0], "")), headers={"HX-Request": "true"})
    assert not counting.counted_bags.exists()


@pytest.mark.parametrize(
    ("count", "told"),
    [
        ("101", "This bag held 100 when it was new: 101 cannot be in it."),
        ("-1", "A whole number, 0 or more."),
        ("ten", "A whole number, 0 or more."),
        ("٣", "A whole number, 0 or more."),
        ("9" * 30, "A whole number, 0 or more."),
    ],
)
def test_a_wrong_number_is_told_beside_it_and_the_right_ones_are_kept(
    owner_client, page, counting, bags, count, told
):
    reply = owner_client.post(page, typed((bags[0], "90"), (bags[1], count)))

    assert (reply.status_code, told in reply.text) == (422, True)
    assert f'value="{count}"' in reply.text and f'href="#count-{bags[1].pk}"' in reply.text
    assert counting.counted_bags.get().bag == bags[0]


def test_a_count_of_nothing_does_not_end(owner_client, page, end):
    assert owner_client.post(page, {}).url == page
    assert "Finish the count" in owner_client.get(end).text


def test_a_bag_that_changed_is_counted_again(owner_client, page, end, counting, bags):
    owner_client.post(page, typed((bags[0], "95")))
    bag_throw_away(bag=bags[0], why="wet", by=None, now=timezone.now())

    reply = owner_client.post(end, {f"why_{bags[0].pk}": "miscounted"}, follow=True)

    assert "has changed since you counted it: count it again." in reply.text
    assert not counting.counted_bags.exists()


def test_a_finished_count_leads_back_to_the_list(owner_client, page, end, counting, bags):
    enter(counting, (bags[0], 100))
    finish(counting)
    for address in (page, end):
        assert owner_client.get(address).url == reverse("counting_list")
        assert owner_client.post(address, {}).url == reverse("counting_list")


def test_a_sheet_for_paper_lists_the_place(owner_client, bags):
    reply = owner_client.get(reverse("counting_sheet"), {"place": "Box 3"})

    assert reply["Content-Type"] == "application/pdf"
    words = words_of(reply.content)
    assert "Counting Box 3" in words and "Fern 11-inch" in words and bags[2].tag in words


def test_an_empty_shelf_has_nothing_to_count(owner_client):
    assert "Nothing to count" in owner_client.get(reverse("counting_list")).text


def test_more_bags_ask_no_more(owner_client, page, end, counting, item, bags):
    enter(counting, (bags[0], 90))
    few = [queries_of(owner_client, address) for address in (page, end)]
    for _ in range(10):
        count_enter(counting=counting, bag=BagFactory(item=item, place="Box 3"), counted=3, now=NOW)
    assert [queries_of(owner_client, address) for address in (page, end)] == few


def refreshed(bags):
    for bag in bags:
        bag.refresh_from_db()
    return bags
