from datetime import UTC, date, datetime, timedelta

import pytest

from inventory.free.balance import Balance, Change, short_by
from inventory.free.drawing import timeline_drawing
from inventory.free.listed import free_listed
from inventory.free.service import free_on
from inventory.free.timeline import free_timeline
from inventory.models import Hold, Order, OrderLine
from tests.factories import BagFactory, ColourFactory, ItemFactory, JobFactory, SupplierFactory

NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)


def hold(item, quantity, on, *, title="Arch", state="soft", taken=0, placed_at=NOW):
    return Hold.objects.create(
        job=JobFactory(title=title),
        item=item,
        quantity=quantity,
        taken=taken,
        state=state,
        needed_on=on,
        placed_at=placed_at,
    )


def order(item, bags, on, *, received=0, state="ordered"):
    placed = Order.objects.create(
        supplier=SupplierFactory(),
        ordered_on=on - timedelta(days=20),
        expected_on=on,
        state=state,
    )
    return OrderLine.objects.create(
        order=placed, item=item, bag_count=100, bags=bags, bag_cents=1650, received_bags=received
    )


@pytest.fixture
def fern(db):
    """Two bags of a hundred."""
    item = ItemFactory()
    BagFactory(item=item)
    BagFactory(item=item)
    return item


def test_a_promise_takes_no_more_than_is_left_on_any_later_day(today):
    later = Change(on=today + timedelta(days=5), quantity=-80)
    back = Change(on=today + timedelta(days=9), quantity=50, is_arrival=True)
    free = Balance(shelf=100, changes=[later, back]).free_on(today)
    assert (free.free, free.promisable) == (100, 20)
    assert [short_by(n, free) for n in (0, 20, 21, 100)] == [0, 0, 1, 80]


def test_what_others_are_short_of_is_not_added_to_what_a_new_job_is_short_of(today):
    free = Balance(shelf=10, changes=[Change(on=today, quantity=-60)]).free_on(today)
    assert free.promisable == -50
    assert short_by(30, free) == 30


def test_free_is_the_shelf_less_holds_due_plus_deliveries_before(fern, today):
    hold(fern, 70, today, taken=30)
    hold(fern, 50, today + timedelta(days=3), state="firm")
    hold(fern, 99, today, state="released")
    order(fern, 3, today + timedelta(days=2), received=1)
    order(fern, 9, today + timedelta(days=1), state="called_off")
    expected = {0: 160, 2: 160, 3: 310, 4: 310}
    for days, free in expected.items():
        on = today + timedelta(days=days)
        assert free_on(on=on, today=today)[fern.pk].free == free, days


def test_a_delivery_of_the_day_itself_is_too_late_and_one_overdue_is_still_awaited(fern, today):
    order(fern, 1, today - timedelta(days=4))
    assert free_on(on=today, today=today)[fern.pk].arriving == 0
    assert free_on(on=today + timedelta(days=1), today=today)[fern.pk].arriving == 100


def test_a_timeline_shows_which_job_goes_below_nothing_and_by_how_much(fern, today):
    hold(fern, 150, today + timedelta(days=2), title="First")
    hold(fern, 90, today + timedelta(days=4), title="Second")
    order(fern, 1, today + timedelta(days=4))
    hold(fern, 70, today + timedelta(days=6), title="Third")
    timeline = free_timeline(fern, today=today)
    assert [step.left for step in timeline.steps] == [50, -40, 60, -10]
    assert [(dip.job.title, dip.missing) for dip in timeline.dips] == [
        ("Second", 40),
        ("Third", 10),
    ]
    for step in timeline.steps:
        last_of_day = [each for each in timeline.steps if each.on == step.on and each.job]
        if last_of_day and step is last_of_day[-1]:
            assert step.left == free_on(on=step.on, today=today)[fern.pk].free


def test_on_one_day_who_was_promised_first_comes_first(fern, today):
    hold(fern, 150, today, title="Later", placed_at=NOW + timedelta(hours=1))
    hold(fern, 150, today, title="Sooner")
    (dip,) = free_timeline(fern, today=today).dips
    assert (dip.job.title, dip.missing) == ("Later", 100)


def test_the_drawing_marks_each_dip_below_the_line_of_nothing(fern, today):
    assert timeline_drawing(free_timeline(fern, today=today), today=today) is None
    hold(fern, 250, today + timedelta(days=2))
    drawing = timeline_drawing(free_timeline(fern, today=today), today=today)
    ((_, y),) = drawing.dips
    assert y > drawing.zero_y
    assert [label.text for label in drawing.heights] == ["-50", "0", "200"]


def test_free_by_date_takes_the_same_queries_for_any_number_of_rows(
    fern, today, django_assert_num_queries
):
    def listed() -> None:
        free_listed(on=today, today=today)
        free_timeline(fern, today=today)

    with django_assert_num_queries(5 + 5):
        listed()
    for n in range(6):
        item = ItemFactory(colour=ColourFactory(key=f"colour-{n}"))
        BagFactory(item=item)
        hold(item, 20, today, title=f"Job {n}")
        hold(fern, 5, today + timedelta(days=n), title=f"Fern {n}")
        order(item, 1, today)
        order(fern, 1, today)
    with django_assert_num_queries(5 + 5):
        listed()


@pytest.mark.parametrize("on", ["", "not-a-day", "2026-05-01", "2099-01-01", "2026-06-20"])
def test_the_page_counts_for_a_day_and_says_what_is_wrong_with_another(
    owner_client, fern, time_machine, on
):
    time_machine.move_to(NOW)
    page = owner_client.get("/shelf/free/", {"on": on})
    assert page.status_code == 200
    day = date(2026, 6, 20) if on == "2026-06-20" else date(2026, 6, 13)
    assert page.context["on"] == day
    assert b"200" in page.content


def test_the_timeline_page_says_who_is_short(owner_client, fern, time_machine):
    time_machine.move_to(NOW)
    hold(fern, 250, date(2026, 6, 20), title="Regatta arch")
    page = owner_client.get(f"/shelf/items/{fern.pk}/timeline/").content.decode()
    assert "Short by 50 on Saturday 20 June 2026 for" in page
    assert "Regatta arch" in page and "−250" in page
