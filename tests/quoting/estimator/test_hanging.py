"""Where everything hangs: the counts of the recipe, in metres along the path."""

from itertools import pairwise

import pytest

from quoting.estimator import estimate, spec_from_dict
from quoting.estimator.hanging import hanging_of
from tests.quoting.estimator.garlands import garland

PATHS = [
    {"kind": "arch", "width_m": 2.4, "height_m": 2.1},
    {"kind": "line", "length_m": 5.0},
    {"kind": "ring", "diameter_m": 1.8},
]


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path["kind"])
@pytest.mark.parametrize("outdoor", [True, False], ids=["outdoors", "indoors"])
def test_everything_counted_has_its_place_on_the_path(path, outdoor):
    made = estimate(spec_from_dict(garland(path=path, site={"outdoor": outdoor, "gust_mps": 6})))
    hangs, length = hanging_of(made), made.path_length_m

    assert sum(run.count for run in hangs.runs) == made.make.cluster_count
    assert [run.first for run in hangs.runs[1:]] == [run.last + 1 for run in hangs.runs[:-1]]
    assert all(one.colour != next_one.colour for one, next_one in pairwise(hangs.runs))
    assert all(0 <= run.from_m <= run.to_m <= length for run in hangs.runs)
    made_of = (made.make.accent_bunches, made.make.minis, made.make.starbursts, made.make.singles)
    assert tuple(len(hangs.of(what)) for what in ("accent", "mini", "starburst", "single")) == (
        made_of
    )

    anchors = hangs.anchors
    assert anchors.count == made.wind.anchors
    assert anchors.low == (2 if outdoor else 0)
    gaps = [after - before for before, after in pairwise(anchors.at_m)]
    assert gaps == pytest.approx([anchors.spacing_m] * len(gaps))
    # Common practice, no source: at most every 0.6 m outdoors, 1.0 m indoors.
    assert anchors.spacing_m <= (0.6 if outdoor else 1.0)
    ends_at = length if path["kind"] != "ring" else length - anchors.spacing_m
    assert (anchors.at_m[0], anchors.at_m[-1]) == pytest.approx((0, ends_at))


def test_accents_stand_in_a_zigzag_as_the_string_has_them():
    made = estimate(spec_from_dict(garland()))
    sides = [accent.side for accent in hanging_of(made).of("accent")]
    assert len(sides) > 2
    assert all(one != next_one for one, next_one in pairwise(sides))
