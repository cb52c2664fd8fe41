"""Path lengths against published and independently computed values."""

from math import cosh, hypot, isclose, log, sinh

import pytest
from scipy.special import ellipe

from quoting.estimator.paths import catenary_length, half_ellipse_length, path_length
from quoting.estimator.spec import Arch, Posts, Swag


def exact_half_ellipse(a: float, b: float) -> float:
    """4 a E(m) / 2 with m = 1 - (b/a)^2, a the longer axis; scipy takes m and not k."""
    a, b = max(a, b), min(a, b)
    return 2 * a * ellipe(1 - (b / a) ** 2)


@pytest.mark.parametrize("ratio", [0.1, 0.2, 0.35, 0.5, 0.8, 1, 1.7, 3, 10])
def test_half_ellipse_is_within_2e_5_of_scipy_down_to_a_tenth(ratio):
    """Tolerance: the stated error of Ramanujan's second formula at b/a = 0.1."""
    assert isclose(half_ellipse_length(1, ratio), exact_half_ellipse(1, ratio), rel_tol=2e-5)


@pytest.mark.parametrize("ratio", [0.02, 0.05, 30, 50])
def test_even_very_flat_arches_are_within_two_parts_in_a_thousand(ratio):
    assert isclose(half_ellipse_length(1, ratio), exact_half_ellipse(1, ratio), rel_tol=2e-3)


@pytest.mark.parametrize(
    ("width", "height", "feet"),
    [(8, 8, 19.3769), (12, 8, 22.1035), (8, 12, 26.7298), (10, 7, 18.9807)],
)
def test_arches_in_feet(width, height, feet):
    """Computed with scipy.special.ellipe, to the four decimals noted."""
    assert path_length(Arch(width, height)) == pytest.approx(feet, abs=2e-4)
    assert path_length(Arch(width, height)) >= 2 * hypot(width / 2, height)


@pytest.mark.parametrize(("a", "b", "around"), [(5, 3, 25.526998863), (10, 5, 48.442241103)])
def test_whole_ellipses(a, b, around):
    """Computed with scipy.special.ellipe; the formula's own error is below 1e-6 here."""
    assert 2 * half_ellipse_length(a, b) == pytest.approx(around, rel=1e-6)


def test_the_orbit_that_shows_the_error_of_the_formula():
    """J. D. Cook, "Ramanujan approximation for circumference of an ellipse", 2013.

    Semi-axes as printed there, in km; the formula gives 11,464,316,437 for an exact
    11,464,319,022: an error of 2,585 km. The printed axes are good to half of their
    seventh figure, 500 and 50 km, which moves either sum by up to 2,200 km but their
    difference by less than one.
    """
    ours = 2 * half_ellipse_length(2.667950e9, 6.782819e8)
    exact = 2 * exact_half_ellipse(2.667950e9, 6.782819e8)
    assert ours == pytest.approx(11_464_316_437, abs=2200)
    assert exact == pytest.approx(11_464_319_022, abs=2200)
    assert exact - ours == pytest.approx(2585, abs=1)


@pytest.mark.parametrize(
    ("width", "height"),
    [(8, 12), (2.4, 2.1)],
)
def test_posts_are_the_decorators_rule_for_a_tall_arch(width, height):
    """Taller than wide: 2 H + W (ehow.com how_4828202)."""
    assert path_length(Posts(width, height)) == 2 * height + width


def test_the_decorators_rule_buys_a_fifth_more_than_the_arch_is_long():
    """12 ft tall and 8 ft wide: 32 ft by the rule of ehow.com how_4828202, 26.73 ft by ellipe."""
    assert path_length(Posts(8, 12)) == 32
    assert path_length(Posts(8, 12)) / path_length(Arch(8, 12)) == pytest.approx(1.197, abs=1e-3)


@pytest.mark.parametrize("side", [1, 8, 3.3])
def test_the_wrongly_copied_rule_is_below_what_any_arch_needs(side):
    """A copy of the rule gives 0.5 H + W for equal sides: shorter than two straight chords."""
    assert 1.5 * side < 2 * hypot(side / 2, side) < path_length(Arch(side, side))


def test_a_cable_of_100_m_span_and_10_m_dip():
    """Cheney & Kincaid, Numerical Mathematics and Computing: 2.6 m longer than its span."""
    length = path_length(Swag(100, 10))
    assert length == pytest.approx(102.619, abs=5e-4)  # scipy.optimize.brentq
    parabola = 102.606
    assert abs(length - parabola) > 0.01, "a parabola in disguise"


def test_a_swag_of_10_and_2():
    """Computed with scipy.optimize.brentq."""
    assert catenary_length(10, 2) == pytest.approx(10.997182, abs=1e-6)


def test_posts_ten_high_hung_with_a_chain_of_parameter_eight():
    """Calculus text exercise: y = 8 cosh(x/8) between posts 16 ln 2 apart is 12 long."""
    span = 16 * log(2)
    sag = 8 * cosh(span / 16) - 8
    assert catenary_length(span, sag) == pytest.approx(12, abs=1e-12)


@pytest.mark.parametrize("parameter", [0.2, 0.7, 1, 3, 40])
def test_catenaries_of_known_parameter(parameter):
    """y = a cosh(x/a): sag and length over a span of 2 are elementary."""
    sag = parameter * (cosh(1 / parameter) - 1)
    expected = 2 * parameter * sinh(1 / parameter)
    assert catenary_length(2, sag) == pytest.approx(expected, rel=1e-10)
