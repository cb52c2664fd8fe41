from datetime import UTC, date, datetime, time

import pytest

from decor.clients.service import PLACE_TO_BE_SETTLED
from decor.jobs.photos import photos_read, tray_fill, tray_new
from decor.jobs.service import Enquiry, enquiry_take
from decor.models import Client, Job, Site, StageMove
from tests.decor.pictures import image_file
from tests.factories import ClientFactory, SiteFactory, UserFactory

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)


def take(**said) -> Job:
    asked = {"name": "The Brannigans", "contact": "(207) 555-0177", **said}
    return enquiry_take(enquiry=Enquiry(**asked), by=UserFactory(), now=NOW)


def test_an_enquiry_becomes_a_client_a_place_and_a_job():
    job = take(
        title="Sixth birthday",
        event_on=date(2026, 6, 27),
        event_time=time(14, 30),
        place="Front porch",
        is_outdoor=True,
        note="Marigold and plum",
    )
    assert (job.client.name, job.client.phone) == ("The Brannigans", "(207) 555-0177")
    assert (job.site.name, job.site.is_outdoor, job.site.client) == (
        "Front porch",
        True,
        job.client,
    )
    assert (job.event_on, job.event_time) == (date(2026, 6, 27), time(14, 30))
    assert (job.title, job.note, job.stage) == ("Sixth birthday", "Marigold and plum", "asked")


def test_two_presses_that_cross_take_one_job():
    """As when both were found to be new: the database tells the second of the first."""
    first = take(press="a" * 64)
    assert take(press="a" * 64) == first
    assert Client.objects.count() == 1
    assert take(press="b" * 64) != first


def test_the_history_begins_with_who_took_it_and_when():
    move = take().stage_moves.get()
    assert (move.from_stage, move.to_stage, move.moved_at) == ("", "asked", NOW)
    assert move.moved_by.username == "nell"


def test_name_and_contact_are_enough():
    job = take()
    assert (job.title, job.site, job.event_on) == ("Garland for The Brannigans", None, None)


def test_a_known_client_is_not_made_again():
    library = ClientFactory()
    job = take(client=library, contact="")
    assert job.client == library
    assert Client.objects.count() == 1


def test_a_place_known_by_its_name_is_not_made_again():
    porch = SiteFactory(name="Library porch")
    job = take(client=porch.client, contact="", place="library PORCH")
    assert job.site == porch
    assert Site.objects.count() == 1


def test_outdoors_is_kept_though_the_place_has_no_name():
    site = take(is_outdoor=True).site
    assert (site.name, site.is_outdoor) == (PLACE_TO_BE_SETTLED, True)


@pytest.mark.parametrize(
    ("known", "contact", "kept"),
    [
        ({"email": ""}, "new@lane.example", {"email": "new@lane.example", "note": ""}),
        ({"phone": ""}, "207 555 0199", {"phone": "207 555 0199", "note": ""}),
        ({}, "new@lane.example", {"note": "Also reached at new@lane.example"}),
        ({}, "READING@wexcombebay.example", {"note": ""}),
        ({}, "207-555-0142", {"phone": "(207) 555-0142", "note": ""}),
        ({"note": "Kind"}, "@library", {"other_contact": "@library", "note": "Kind"}),
    ],
)
def test_a_new_way_to_reach_a_known_client_is_kept_and_the_old_too(known, contact, kept):
    client = ClientFactory(**known)
    take(client=client, contact=contact)
    client.refresh_from_db()
    assert {field: getattr(client, field) for field in kept} == kept


def test_an_archived_client_who_asks_again_is_back():
    client = ClientFactory(archived_at=NOW)
    take(client=client, contact="")
    client.refresh_from_db()
    assert client.archived_at is None


def test_the_tray_goes_to_the_job_and_only_that_tray():
    mine, other = tray_new(), tray_new()
    pictures = photos_read([image_file()]).pictures
    tray_fill(tray=mine, pictures=pictures)
    tray_fill(tray=other, pictures=pictures)
    job = take(tray=mine)
    assert job.photos.count() == 1
    assert job.photos.get().tray == ""


def test_nothing_is_half_taken_when_something_is_refused():
    with pytest.raises(Exception, match="at most 120"):
        take(place="p" * 100, title="t" * 121)
    assert not (Client.objects.exists() or Job.objects.exists() or StageMove.objects.exists())
