from collections import Counter
from math import pi

import pytest
from scipy.integrate import quad

from quoting.estimator.picture.strung import stratified

from .pictured import KINDS, bill, drawn_in, pictured, random_garland, random_pictures


def test_every_counted_balloon_is_one_element_by_colour_kind_size_and_use():
    for shown in random_pictures():
        counts = Counter((b.colour, b.kind, b.nominal, b.use) for b in drawn_in(shown.svg))
        assert counts == bill(shown.estimate)


def test_the_random_garlands_are_of_every_path_backing_and_cluster():
    specs = [shown.estimate.spec for shown in random_pictures()]
    met = {(spec.path.kind, spec.backing.value) for spec in specs}
    assert met == {(kind, backing) for kind in KINDS for backing in ("free", "flat")}
    assert {spec.cluster_of for spec in specs} == {4, 8}


def test_every_element_says_where_it_is_drawn():
    for shown in random_pictures()[:6]:
        for element, balloon in zip(drawn_in(shown.svg), shown.picture.balloons, strict=True):
            assert element.x == pytest.approx(balloon.x_m * 1000, abs=0.051)
            assert element.y == pytest.approx(-balloon.y_m * 1000, abs=0.051)
            assert element.diameter == pytest.approx(balloon.diameter_m * 1000, abs=0.051)


@pytest.mark.parametrize("inflated_in", [(6, 10), (9, 9), (3.5, 4.5), (12, 15)])
@pytest.mark.parametrize("count", [1, 2, 7, 100])
def test_drawn_diameters_keep_the_mean_volume_of_their_range(inflated_in, count):
    """The mean cube against numerical integration (scipy.integrate.quad)."""
    low, high = (inches * 0.0254 for inches in inflated_in)
    whole = quad(lambda d: d**3, low, high)[0] / (high - low) if high > low else low**3
    diameters = stratified(inflated_in, count)
    assert sum(d**3 for d in diameters) / count == pytest.approx(whole, rel=1e-12)
    assert all(low - 1e-12 <= d <= high + 1e-12 for d in diameters)


def test_the_volume_in_the_picture_is_the_air_that_was_estimated():
    for number in range(12):
        shown = pictured(random_garland(number) | {"starbursts": []})
        volume = sum(pi / 6 * b.diameter_m**3 for b in shown.picture.balloons)
        assert volume == pytest.approx(shown.estimate.air_m3, rel=1e-9)


def test_another_seed_places_the_same_balloons_elsewhere():
    data = random_garland(1)
    first, second = pictured(data), pictured(data, seed=99)
    assert first.svg != second.svg
    assert Counter((b.colour, b.kind, b.nominal, b.use) for b in drawn_in(second.svg)) == bill(
        first.estimate
    )
