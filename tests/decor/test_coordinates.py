import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError

from decor.coordinates import NOT_ON_EARTH, NOT_READ, CoordinatesField, coordinates_text
from decor.models.located import Coordinates
from tests.factories import BusinessFactory, SiteFactory


@pytest.mark.parametrize(
    ("typed", "latitude", "longitude"),
    [
        ("43.66, -70.26", 43.66, -70.26),
        ("43.66 N, 70.26 W", 43.66, -70.26),
        ("43.66° N 70.26° W", 43.66, -70.26),
        ("33.87s,151.21e", -33.87, 151.21),
        ("43.660123; −70.260456", 43.660123, -70.260456),
        ("0 0", 0, 0),
    ],
)
def test_coordinates_are_read_as_maps_give_them(typed, latitude, longitude):
    assert CoordinatesField().clean(typed) == Coordinates(latitude, longitude)


@pytest.mark.parametrize("typed", ["here", "43.66", "43.66, -70.26, 12", "43,66 70,26", "N W"])
def test_what_is_no_pair_of_coordinates_is_refused_with_an_example(typed):
    with pytest.raises(ValidationError) as refused:
        CoordinatesField().clean(typed)
    assert refused.value.messages == [NOT_READ]


@pytest.mark.parametrize("typed", ["91, 0", "0, 180.5", "-90.1, 0"])
def test_a_place_that_is_not_on_earth_is_refused(typed):
    with pytest.raises(ValidationError) as refused:
        CoordinatesField().clean(typed)
    assert refused.value.messages == [NOT_ON_EARTH]


def test_what_is_shown_can_be_typed_again():
    place = Coordinates(-43.660123, 170.260456)
    assert CoordinatesField().clean(coordinates_text(place)) == place


@pytest.mark.django_db
def test_a_place_keeps_its_coordinates_to_a_millionth_of_a_degree():
    site = SiteFactory()
    assert site.coordinates is None
    site.coordinates = Coordinates(43.660123, -70.260456)
    site.save()
    site.refresh_from_db()
    assert site.coordinates == Coordinates(43.660123, -70.260456)


@pytest.mark.django_db
@pytest.mark.parametrize("half", [{"latitude_microdeg": 1}, {"longitude_microdeg": 181_000_000}])
def test_half_a_place_on_the_map_is_none(half):
    with pytest.raises(IntegrityError):
        SiteFactory(**half)


@pytest.mark.django_db
def test_the_business_may_be_on_the_map_too():
    business = BusinessFactory(latitude_microdeg=43_660_000, longitude_microdeg=-70_260_000)
    assert business.coordinates == Coordinates(43.66, -70.26)
