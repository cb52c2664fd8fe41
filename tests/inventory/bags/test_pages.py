"""A bag's page: what is in it, what happened to it, and what can be done with it."""

from datetime import date

import pytest
from django.urls import reverse
from django.utils import timezone

from inventory.bags.deeds import HOW, HOW_MANY, HOW_MANY_COUNTED, DeedForm
from inventory.ledger.service import SAY_WHAT_FOR, SAY_WHY, bag_take
from inventory.models import Bag, Hold
from tests.factories import BagFactory, JobFactory
from tests.inventory.asking import queries_of


@pytest.fixture(autouse=True)
def in_june(time_machine):
    time_machine.move_to("2026-06-13T15:00Z")


@pytest.fixture
def bag(db):
    return BagFactory(printed_count=100, lot="B2", place="Box 3")


@pytest.fixture
def job(db):
    return JobFactory()


@pytest.fixture
def do(owner_client, bag):
    def done(deed: str, **typed: object):
        return owner_client.post(reverse("bag_do", args=[bag.pk, deed]), typed)

    return done


def page_of(browser, bag) -> str:
    return browser.get(reverse("bag_detail", args=[bag.pk])).text


def kinds(bag) -> list[tuple[str, int]]:
    return list(bag.lines.values_list("kind", "quantity"))


def test_it_says_what_is_in_it(owner_client, bag):
    page = page_of(owner_client, bag)
    assert "of 100 left · sealed" in page and "lot B2" in page and "Box 3" in page
    assert bag.tag in page and "Received" in page and "+100" in page


@pytest.mark.parametrize(
    ("received_on", "told"),
    [(date(2024, 5, 1), "Past its best since November 2025"), (date(2025, 1, 1), "Use soon")],
)
def test_it_warns_of_its_age(owner_client, received_on, told):
    assert told in page_of(owner_client, BagFactory(received_on=received_on))


def test_everything_that_can_happen_is_done_from_its_page(do, bag, job, owner):
    do("open")
    do("take", quantity="30", job=job.pk)
    do("return", quantity="5", job=job.pk)
    do("lose", quantity="2", reason="popped", was_taken="yes", job=job.pk)
    do("lose", quantity="1", reason="leaked", was_taken="no")
    do("count", counted="70", why="miscounted")
    reply = do("throw-away", quantity="", why="wet")

    assert reply.status_code == 302
    assert kinds(bag) == [
        ("received", 100), ("opened", 0), ("taken", -30), ("returned", 5), ("returned", 2),
        ("lost", -2), ("lost", -1), ("counted", -4), ("thrown_away", -70),
    ]  # fmt: skip
    assert set(bag.lines.exclude(kind="received").values_list("by", flat=True)) == {owner.pk}


def test_what_is_taken_for_a_job_is_taken_off_its_hold(do, bag, job, owner_client):
    hold = Hold.objects.create(
        job=job, item=bag.item, quantity=40, needed_on="2026-06-19", placed_at=timezone.now()
    )
    assert f'<option value="{job.pk}" selected>' in page_of(owner_client, bag)

    do("take", quantity="30", job=job.pk)
    do("return", quantity="10", job=job.pk)

    hold.refresh_from_db()
    assert hold.taken == 20


@pytest.mark.parametrize(
    ("deed", "typed", "told"),
    [
        ("take", {"quantity": "", "why": "x"}, HOW_MANY),
        ("take", {"quantity": "-1", "why": "x"}, HOW_MANY),
        ("take", {"quantity": "two", "why": "x"}, HOW_MANY),
        ("take", {"quantity": "5"}, SAY_WHAT_FOR),
        ("take", {"quantity": "101", "why": "x"}, "There are only 100 left in this bag."),
        ("take", {"quantity": "5", "job": "999"}, "Select a valid choice"),
        ("return", {"quantity": "1", "why": "found"}, "No more than 0 of this bag are out"),
        ("lose", {"quantity": "1", "was_taken": "no"}, HOW),
        ("lose", {"quantity": "1", "reason": "popped", "was_taken": "yes"}, "No more than 0"),
        ("count", {"counted": "-1"}, HOW_MANY_COUNTED),
        ("count", {"counted": "90"}, SAY_WHY),
        ("count", {"counted": "101", "why": "x"}, "This bag held 100 when it was new"),
        ("throw-away", {"quantity": "3"}, SAY_WHY),
    ],
)
def test_what_cannot_be_is_told_in_its_own_form(do, bag, deed, typed, told):
    reply = do(deed, **typed)

    assert reply.status_code == 422
    assert told in reply.text
    form = reply.text[reply.text.index(f'id="{deed}"') :]
    assert form.startswith(f'id="{deed}" open')
    assert kinds(bag) == [("received", 100)]


def test_an_open_bag_is_not_opened_again(do, bag):
    do("open")
    reply = do("open")
    assert (reply.status_code, "open already" in reply.text) == (422, True)


def test_nothing_else_can_be_done(do):
    assert do("burn").status_code == 404


def test_a_get_does_nothing(owner_client, bag):
    assert owner_client.get(reverse("bag_do", args=[bag.pk, "open"])).status_code == 405


def test_an_empty_bag_can_still_be_set_right(do, bag):
    do("throw-away", why="wet")
    page = do("take", quantity="1", why="x")
    assert page.status_code == 422
    do("count", counted="3", why="three were left after all")
    bag.refresh_from_db()
    assert bag.left == 3


def test_moving_it_writes_no_line(owner_client, bag):
    address = reverse("bag_edit", args=[bag.pk])
    BagFactory(item=bag.item, place="Attic")
    assert '<option value="Attic">' in owner_client.get(address).text

    owner_client.post(address, {"place": "Attic", "lot": "B3", "note": "dry"})

    bag.refresh_from_db()
    assert (bag.place, bag.lot, bag.note, bag.left) == ("Attic", "B3", "dry", 100)
    assert bag.lines.count() == 1
    refused = owner_client.post(address, {"place": "x" * 61})
    assert (refused.status_code, "x" * 61 in refused.text) == (422, True)


def test_a_label_leads_to_its_bag(owner_client, bag):
    for tag in (bag.tag, bag.tag.upper()):
        reply = owner_client.get(reverse("bag_by_tag", args=[tag]))
        assert reply.url == reverse("bag_detail", args=[bag.pk])
    lost = owner_client.get(reverse("bag_by_tag", args=["nosuch"]), follow=True)
    assert "No bag has the label “nosuch”" in lost.text


def test_who_scans_a_label_logs_in_first_and_then_sees_the_bag(client, business, owner, bag):
    scanned = reverse("bag_by_tag", args=[bag.tag])
    to_login = client.get(scanned)
    assert to_login.url == f"{reverse('login')}?next={scanned}"

    said = {"username": owner.username, "password": "six-oat-balloons"}
    reply = client.post(to_login.url, said, follow=True)

    assert reply.redirect_chain[-1][0] == reverse("bag_detail", args=[bag.pk])


@pytest.mark.parametrize(
    "where", ["https://example.org/b/x/", "//example.org/", "/\\example.org", "javascript:alert(1)"]
)
def test_logging_in_never_leads_away_from_here(client, business, owner, where):
    said = {"username": owner.username, "password": "six-oat-balloons", "next": where}
    reply = client.post(reverse("login"), said)
    assert reply.url == reverse("home")


def test_a_longer_ledger_asks_no_more(owner_client, bag, job):
    address = reverse("bag_detail", args=[bag.pk])
    bag_take(bag=bag, quantity=1, job=job, by=None, now=timezone.now())
    few = queries_of(owner_client, address)
    for _ in range(60):
        bag_take(bag=bag, quantity=1, job=job, by=None, now=timezone.now())
    # A second page of the ledger is counted, but none of its lines is asked for.
    assert queries_of(owner_client, address) == few
    assert Bag.objects.get().left == 39


def test_a_deed_that_does_nothing_cannot_be_made():
    class Idle(DeedForm):
        deed = "idle"

    with pytest.raises(TypeError, match="abstract"):
        Idle(bag=None)
