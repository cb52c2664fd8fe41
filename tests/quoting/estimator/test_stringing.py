from itertools import groupby, pairwise
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.estimator import estimate, spec_from_dict
from quoting.estimator.stringing import banded, blended, spread_out

from .garlands import garland

counts = st.dictionaries(
    st.sampled_from(("oat", "fern", "plum", "copper")), st.integers(0, 40), min_size=1
)


def longest_run(order: list[str]) -> int:
    return max((len(list(run)) for _, run in groupby(order)), default=0)


@given(counts, st.integers(0, 9))
def test_no_run_of_a_colour_is_longer_than_it_must_be(colours, seed):
    order = spread_out(colours, Random(seed))
    most = max(colours.values())
    others = sum(colours.values()) - most
    assert longest_run(order) <= max(1, -(-most // (others + 1)))


@given(counts, st.integers(0, 9), st.sampled_from((spread_out, banded, blended)))
def test_every_pattern_strings_every_cluster(colours, seed, pattern):
    order = pattern(colours, Random(seed))
    assert {name: order.count(name) for name in colours} == colours


@given(counts, st.integers(0, 9))
def test_every_stretch_of_a_spread_garland_holds_its_share_of_each_colour(colours, seed):
    """Within two clusters: one for whole clusters, one for keeping runs short."""
    order = spread_out(colours, Random(seed))
    total = len(order)
    for name, count in colours.items():
        for i in range(total + 1):
            assert abs(order[:i].count(name) - count * i / total if total else 0) <= 2


def test_bands_follow_the_order_of_the_base():
    assert banded({"oat": 2, "fern": 1}, Random(1)) == ["oat", "oat", "fern"]


def test_a_blend_goes_from_the_first_colour_to_the_last():
    order = blended({"oat": 12, "fern": 12, "plum": 12}, Random(1))
    middle = {name: sum(i for i, n in enumerate(order) if n == name) / 12 for name in set(order)}
    assert middle["oat"] < middle["fern"] < middle["plum"]
    assert order[0] == "oat" and order[-1] == "plum"
    assert "fern" in order[:12] and "oat" not in order[24:]


@pytest.mark.parametrize("pattern", ["spread", "banded", "blend"])
def test_the_same_seed_strings_the_same_way(pattern):
    first, second = (estimate(spec_from_dict(garland(pattern=pattern))) for _ in range(2))
    assert first.string == second.string


def test_another_seed_may_string_another_way():
    strings = {estimate(spec_from_dict(garland(seed=seed))).string for seed in range(6)}
    assert len(strings) > 1


def test_accents_zigzag_evenly_along_the_path():
    long = garland(path={"kind": "line", "length_m": 12})
    accents = [i for i in estimate(spec_from_dict(long)).string if i.what == "accent"]
    assert len(accents) > 4
    sides = [item.side for item in accents]
    assert all(here != there for here, there in pairwise(sides))
    gaps = [b.at - a.at for a, b in pairwise(accents)]
    assert max(gaps) == pytest.approx(min(gaps))


def test_clusters_crowd_where_the_garland_is_wide():
    """Half of a taper from 1 to 0.5 m holds (1 - 0.75^3) / (1 - 0.5^3) of the integral of W^2."""
    taper = garland(path={"kind": "line", "length_m": 10}, width=[[0, 1.0], [1, 0.5]])
    clusters = [i for i in estimate(spec_from_dict(taper)).string if i.what == "cluster"]
    in_first_half = sum(item.at < 0.5 for item in clusters) / len(clusters)
    assert in_first_half == pytest.approx((1 - 0.75**3) / (1 - 0.5**3), abs=1 / len(clusters))
