import pytest

from decor.calendar.driving import Basis, Drive, guessed_minutes, minutes_between, minutes_to
from decor.models.located import Coordinates
from tests.factories import BusinessFactory, SiteFactory

pytestmark = pytest.mark.django_db
TOWN = Coordinates(43.66, -70.26)
FARM = Coordinates(43.76, -70.26)  # a tenth of a degree north: 11.12 km


def test_minutes_that_were_entered_come_first_those_of_the_visit_before_the_place_s(business):
    business.coordinates = TOWN
    site = SiteFactory(drive_minutes=18)
    site.coordinates = FARM
    assert minutes_to(site, business) == Drive(18, Basis.ENTERED)
    assert minutes_to(site, business, entered=0) == Drive(0, Basis.ENTERED)


def test_without_them_the_straight_line_is_stretched_and_marked_as_a_guess(business):
    """11.12 km × 1.4 at 50 km/h is 18.7 minutes, said as 20."""
    business.coordinates = TOWN
    site = SiteFactory()
    site.coordinates = FARM
    assert minutes_to(site, business) == Drive(20, Basis.GUESSED)
    assert guessed_minutes(TOWN, TOWN) == 0


def test_what_nobody_knows_is_said_to_be_unknown():
    drive = minutes_to(SiteFactory(), BusinessFactory())
    assert (drive.minutes, drive.is_known) == (0, False)
    assert not minutes_to(None, None).is_known


def test_between_two_places_it_is_never_longer_than_by_way_of_the_workshop():
    library, farm = SiteFactory(), SiteFactory(name="Farm")
    near, far = Drive(5, Basis.ENTERED), Drive(40, Basis.ENTERED)
    ways = {"way_to_a": near, "way_to_b": near}
    assert minutes_between(library, farm, **ways) == Drive(10, Basis.BY_WORKSHOP)
    library.coordinates, farm.coordinates = TOWN, FARM
    assert minutes_between(library, farm, **ways) == Drive(10, Basis.BY_WORKSHOP)
    assert minutes_between(library, farm, way_to_a=far, way_to_b=far) == Drive(20, Basis.GUESSED)
    assert minutes_between(library, farm) == Drive(20, Basis.GUESSED)
    assert minutes_between(library, library) == Drive(0, Basis.SAME_PLACE)
    assert not minutes_between(library, None).is_known
