"""Gas law, wind pressure and packed room against published values."""

import pytest

from quoting.estimator import Rates
from quoting.estimator import constants as c
from quoting.estimator.air import packed_volume
from quoting.estimator.filling import balloon_volume
from quoting.estimator.packing import vehicle_loads
from quoting.estimator.weather import beaufort, diameter_at, wind_chill, wind_on

MPS_PER_MPH = 0.44704  # exact
PA_PER_PSF = 47.880259
CUBIC_FOOT_M3 = 0.3048**3


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def test_charles_law():
    """Textbook exercise: 35 L at 20 C becomes 38 L at 45 C (37.98); 20.0 L needs 79 C for 24.0."""
    assert 35 * diameter_at(1, from_c=20, to_c=45) ** 3 == pytest.approx(37.98, abs=0.005)
    assert 20 * diameter_at(1, from_c=20, to_c=79) ** 3 == pytest.approx(24.0, abs=0.05)


@pytest.mark.parametrize(("fahrenheit", "diameter"), [(100, 11.204), (40, 10.788)])
def test_an_eleven_inch_balloon_in_heat_and_cold(fahrenheit, diameter):
    """The cube root of the gas law, recomputed; made at 70 F."""
    ours = diameter_at(11, from_c=celsius(70), to_c=celsius(fahrenheit))
    assert ours == pytest.approx(diameter, abs=5e-4)


@pytest.mark.parametrize(("mph", "psf"), [(20, 1.024), (90, 20.736)])
def test_velocity_pressure(mph, psf):
    """ASCE 7 as quoted by engineering pages: q = 0.00256 V^2 in psf.

    Tolerance 0.2 %: both printed factors are rounded to three figures.
    """
    wind = wind_on(gust_mps=mph * MPS_PER_MPH, face_m2=1, anchors=1)
    assert wind.pressure_pa / PA_PER_PSF == pytest.approx(psf, rel=0.002)


def test_velocity_pressure_of_the_worked_text():
    """ASCE 7-05 worked text: Kz 0.90, Kd 0.85, 100 mph, 19.58 psf."""
    wind = wind_on(gust_mps=100 * MPS_PER_MPH, face_m2=1, anchors=1)
    assert 0.90 * 0.85 * wind.pressure_pa / PA_PER_PSF == pytest.approx(19.58, rel=0.002)


def test_twice_the_wind_is_four_times_the_force():
    one, two = (wind_on(gust_mps=v, face_m2=2.5, anchors=4).force_n for v in (7, 14))
    assert two == pytest.approx(4 * one, rel=1e-12)


def test_the_pressure_factor_is_half_the_density_of_air():
    """ICAO standard atmosphere (from memory): 1.2250 kg/m3 at 15 C."""
    assert c.AIR_PRESSURE_FACTOR.value == pytest.approx(1.2250 / 2, rel=0.001)


def test_drag_lies_between_a_smooth_sphere_and_a_flat_plate():
    """NASA Glenn: sphere 0.07 to 0.5, flat plate 1.28."""
    assert 0.07 < c.DRAG.value < 1.28


def test_eleven_inch_in_a_short_small_van():
    """104.8 cubic feet (a maker's figure) holds 155 at random loose packing."""
    one = packed_volume(balloon_volume((11, 11)))
    assert int(104.8 * CUBIC_FOOT_M3 / one) == 155
    assert pytest.approx(104.8 * CUBIC_FOOT_M3, abs=0.005) == c.SMALL_VAN_M3.value


def test_the_heat_limit_is_the_trade_articles():
    """A trade article on outdoor work: 11-inch to at most 7.5 in, in sun and heat."""
    assert c.HOT_11_INCH_MAX_IN.value == 7.5


@pytest.mark.parametrize(
    ("number", "up_to_mps"),
    list(enumerate([0.2, 1.5, 3.3, 5.4, 7.9, 10.7, 13.8, 17.1, 20.7, 24.4, 28.4, 32.6])),
)
def test_beaufort_numbers(number, up_to_mps):
    """NASA Quest and the World Meteorological Organization: the upper end of each force."""
    assert beaufort(up_to_mps).number == number
    assert beaufort(up_to_mps + 0.1).number == number + 1


def test_beaufort_signs():
    """NASA Quest: force 4 raises dust and moves branches, 6 makes umbrellas hard to hold."""
    assert "dust" in beaufort(7).on_land
    assert "umbrellas" in beaufort(12).on_land
    assert beaufort(40).number == 12


@pytest.mark.parametrize(
    ("fahrenheit", "mph", "feels"), [(40, 5, 36), (30, 10, 21), (0, 15, -19), (25, 25, 9)]
)
def test_wind_chill(fahrenheit, mph, feels):
    """US National Weather Service chart, 2001: printed in whole degrees."""
    ours = wind_chill(celsius(fahrenheit), mph * MPS_PER_MPH) * 1.8 + 32
    assert ours == pytest.approx(feels, abs=0.5)


def test_a_ten_foot_truck():
    """9'11" x 6'4" x 6'2" is 387.3 cubic feet, recomputed; it is listed as 402."""
    cubic_feet = (9 + 11 / 12) * (6 + 4 / 12) * (6 + 2 / 12)
    assert cubic_feet == pytest.approx(387.3, abs=0.05)
    one = packed_volume(balloon_volume((11, 11)))
    loads = vehicle_loads(576 * one, Rates(vehicle_m3=cubic_feet * CUBIC_FOOT_M3))
    assert loads == 1  # 0.60 x 387.3 / 0.40330 = 576.2
    assert vehicle_loads(577 * one, Rates(vehicle_m3=cubic_feet * CUBIC_FOOT_M3)) == 2
