import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.estimator import Estimate, estimate, spec_from_dict
from quoting.estimator.recipe import pair_up

from .garlands import garland, plain_garland


def estimated(data) -> Estimate:
    return estimate(spec_from_dict(data))


@pytest.mark.parametrize(
    ("counts", "pairs"),
    [
        ({"11": 8}, {"11-11": 4}),
        ({"11": 6, "17": 2}, {"11-11": 2, "11-17": 2}),
        ({"11": 12, "17": 4}, {"11-11": 5, "11-17": 2, "17-17": 1}),
        ({"11": 7, "17": 1}, {"11-11": 3, "11-17": 1}),
        ({"17": 4, "11": 4}, {"17-17": 1, "11-17": 2, "11-11": 1}),
        ({"11": 0, "17": 2}, {"17-17": 1}),
        ({}, {}),
    ],
)
def test_pairs_are_tied_as_chance_would_have_it(counts, pairs):
    assert pair_up(counts) == pairs


@given(st.lists(st.integers(0, 60), min_size=1, max_size=4))
def test_pairing_uses_every_balloon_once(counts):
    if sum(counts) % 2:
        counts[0] += 1
    sizes = ("5", "11", "14", "17")
    wanted = dict(zip(sizes, counts, strict=False))
    tied = dict.fromkeys(wanted, 0)
    for pair, count in pair_up(wanted).items():
        assert count > 0
        for size in pair.split("-"):
            tied[size] += count
    assert tied == wanted


@pytest.mark.parametrize("cluster_of", [4, 8])
def test_clusters_are_whole_and_of_one_colour(cluster_of):
    est = estimated(garland(cluster_of=cluster_of))
    assert est.make.cluster_count == -(-est.count.body // cluster_of)
    for line in est.make.clusters:
        of_colour = [b.need for b in est.balloons if (b.colour, b.use) == (line.colour, "base")]
        assert sum(of_colour) == line.count * cluster_of
        assert sum(line.pairs.values()) * 2 == line.count * cluster_of


def test_the_usual_pairs_are_named_even_at_none():
    assert estimated(plain_garland()).make.pairs["17-17"] == 0


def test_five_inch_stay_out_of_the_pairs_and_make_minis_of_three_quads():
    est = estimated(garland())
    fives = [line for line in est.balloons if line.nominal_in == 5]
    assert {line.use for line in fives} == {"filler"}
    assert sum(line.need for line in fives) == est.make.minis * 12
    assert not any("5" in pair.split("-") for pair in est.make.pairs)
    assert est.make.minis == 4, "1.25 for each of 2.904 m2 is 3.63"


def test_large_singles_stay_out_of_the_pairs():
    est = estimated(garland())
    large = [line for line in est.balloons if line.nominal_in == 24]
    assert [(line.use, line.need) for line in large] == [("single", 4)], "0.6 x 5.28 m is 3.17"


def test_accents_are_eleven_inch_in_whole_bunches():
    est = estimated(garland())
    accents = [line for line in est.balloons if line.use == "accent"]
    assert [(line.nominal_in, line.need) for line in accents] == [(11, 12)]
    assert est.make.accent_bunches == 3


def test_a_starburst_is_twelve_foil_points():
    est = estimated(garland())
    points = [line for line in est.balloons if line.kind == "foil"]
    assert [(line.use, line.need, line.nominal_in) for line in points] == [("starburst", 36, None)]


def test_fillers_and_singles_share_their_colours_evenly():
    fillers = {"minis_per_m2": 2, "colours": ["oat", "plum", "fern"]}
    minis = estimated(garland(fillers=fillers)).make.mini_lines
    assert [(line.colour, line.count) for line in minis] == [("oat", 2), ("plum", 2), ("fern", 2)]
