"""The silhouette of base and accents against the face that was ordered, the integral of W ds.

Measured here from the SVG's own attributes, on a raster by scikit-image.
"""

from collections import Counter
from dataclasses import replace
from math import acos, pi, sqrt

import numpy as np
import pytest
from skimage.draw import disk

from quoting.estimator import estimate, example_rates, spec_from_dict
from quoting.estimator.face_cover import ENOUGH, flat_cover
from quoting.estimator.picture import picture, silhouette
from quoting.estimator.picture.silhouette import covered_area
from tests.quoting.estimator.garlands import garland

from .pictured import drawn_in, overlaps, random_pictures

_PIXEL_MM = 4.0
# A disc of 90 mm and up on this raster is within 1 % of its area; a union of many far closer.
_RASTER_ERROR = 0.01


def raster_area_m2(balloons) -> float:
    x, y, d = (np.array([getattr(b, name) for b in balloons]) for name in ("x", "y", "diameter"))
    left, top = (x - d / 2).min(), (y - d / 2).min()
    size = (int(np.ptp(y) + 2 * d.max()), int(np.ptp(x) + 2 * d.max()))
    canvas = np.zeros([int(s / _PIXEL_MM) + 4 for s in size], dtype=bool)
    for cx, cy, across in zip(x, y, d, strict=True):
        middle = ((cy - top) / _PIXEL_MM, (cx - left) / _PIXEL_MM)
        canvas[disk(middle, across / 2 / _PIXEL_MM, shape=canvas.shape)] = True
    return float(canvas.sum()) * (_PIXEL_MM / 1000) ** 2


def face_of(shown) -> list:
    return [b for b in drawn_in(shown.svg) if b.use in ("base", "accent")]


def test_base_and_accents_cover_the_face_within_a_tenth():
    """For every garland that has balloons enough to cover it: see `ENOUGH`."""
    ratios = {
        number: raster_area_m2(face_of(shown)) / shown.estimate.face_area_m2
        for number, shown in enumerate(random_pictures())
        if shown.has_enough
    }
    assert len(ratios) >= 60
    assert {n: r for n, r in ratios.items() if not 0.90 <= r <= 1.10} == {}


def test_the_covered_garlands_are_of_every_path_and_backing_with_and_without_singles():
    met = Counter(
        (shown.estimate.spec.path.kind, shown.estimate.spec.backing.value)
        for shown in random_pictures()
        if shown.has_enough
    )
    assert len(met) == 12
    assert min(met.values()) >= 3
    with_singles = [s for s in random_pictures() if s.has_enough and s.estimate.make.singles]
    assert len(with_singles) >= 12


@pytest.mark.parametrize("width_m", [0.2, 0.25, 0.3, 0.35])
def test_balloons_too_few_to_cover_the_face_are_shown_so(width_m):
    """11-inch balloons at 9 inches in a garland hardly wider than one of them."""
    sizes = [{"nominal_in": 11, "inflated_in": [9, 9], "share": 1}]
    data = garland(
        path={"kind": "line", "length_m": 6},
        width=[[0, width_m], [1, width_m]],
        sizes=sizes,
        singles=None,
        accents=[],
        cluster_of=4,
    )
    made = estimate(spec_from_dict(data))
    ratio = silhouette(picture(made)).ratio
    cover = flat_cover(made.balloons, made.face_area_m2)
    assert ("gaps" in {caution.key for caution in made.cautions}) == (cover < ENOUGH)
    assert 0.8 * min(cover, 1) <= ratio <= cover
    if cover >= ENOUGH:
        assert 0.90 <= ratio <= 1.10


def test_a_garland_of_fewer_balloons_shows_it():
    """The picture is evidence: it is not pressed into the silhouette that was hoped for.

    Filled to 0.3 it does not cover its face, at 0.5 it is thin, and it comes to its face
    where the estimate fills it, 0.7, with its balloons pressed together.
    """
    data = garland(
        path={"kind": "line", "length_m": 4},
        width=[[0, 0.55], [1, 0.55]],
        singles=None,
        accents=[],
        starbursts=[],
    )
    shown = [
        picture(estimate(spec_from_dict(data), rates=replace(example_rates(), fill=fill)))
        for fill in (0.3, 0.5, 0.7)
    ]
    low, middle, usual = (silhouette(picture).ratio for picture in shown)
    assert low < 0.85
    assert low + 0.05 < middle < usual - 0.04
    assert usual == pytest.approx(1, abs=0.03)
    loose, closer, pressed = (overlaps(picture).mean() for picture in shown)
    assert loose < closer < pressed


def test_own_measure_agrees_with_the_raster():
    for shown in random_pictures()[:12]:
        own = silhouette(shown.picture).base_and_accents_m2
        assert raster_area_m2(face_of(shown)) == pytest.approx(own, rel=_RASTER_ERROR)


def test_two_discs_cover_both_less_their_lens():
    """Area of a lens of equal circles: 2 r^2 acos(d / 2r) - d/2 sqrt(4 r^2 - d^2) (MathWorld)."""
    r, d = 0.1, 0.13
    lens = 2 * r * r * acos(d / (2 * r)) - d / 2 * sqrt(4 * r * r - d * d)
    area = covered_area(np.array([0.0, d]), np.array([0.0, 0.0]), np.array([r, r]))
    assert area == pytest.approx(2 * pi * r * r - lens, rel=1e-3)


def test_what_stands_proud_is_reported_and_never_takes_away():
    for shown in random_pictures():
        areas, make = silhouette(shown.picture), shown.estimate.make
        for added, made in (
            (areas.fillers_add_m2, make.minis),
            (areas.singles_add_m2, make.singles),
            (areas.starbursts_add_m2, make.starbursts),
        ):
            assert added >= -1e-9
            assert made or added == 0
        if make.singles:
            assert areas.singles_add_m2 > 0
