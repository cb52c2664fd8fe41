"""Packing bags: nothing is forgotten, none is too full, and what hangs first is on top."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.estimator import Rates, estimate, spec_from_dict
from quoting.estimator.air import air_volume, packed_volume
from quoting.estimator.packing import travelling_volume
from quoting.making.packing import loads_of
from quoting.making.pieces import PieceToMake
from tests.quoting.making.shop import whole_spec


def piece(width_m: float = 2.4, *, bag_m3: float = 0.35, **changed: object) -> PieceToMake:
    path = {"kind": "arch", "width_m": width_m, "height_m": 2.1}
    spec = spec_from_dict(whole_spec(path=path, **changed))
    rates = Rates(packing_bag_m3=bag_m3)
    return PieceToMake(pk=1, title="Arch", estimate=estimate(spec, rates=rates))


@settings(max_examples=25)
@given(
    width_m=st.floats(0.5, 8),
    bag_m3=st.floats(0.15, 2),
    cluster_of=st.sampled_from([4, 8]),
    seed=st.integers(1, 50),
)
def test_every_thing_is_in_one_bag_in_the_order_of_hanging(width_m, bag_m3, cluster_of, seed):
    one = piece(width_m, bag_m3=bag_m3, cluster_of=cluster_of, seed=seed)
    loads = loads_of([one], one.estimate.rates)
    packed = [thing for load in loads for thing in load.things]
    string = [item for item in one.estimate.string if item.what != "single"]
    clusters = [item for item in string if item.what == "cluster"]
    assert packed == clusters + [item for item in string if item.what != "cluster"]
    assert [load.number for load in loads] == list(range(1, len(loads) + 1))
    for load in loads:
        assert load.packed_m3 <= bag_m3 + 1e-9 or len(load.things) == 1
        assert sum(count for count, _, _ in load.filling) == len(load.things)
        bottom, top = load.filling[0], load.filling[-1]
        assert bottom[1:] == (load.things[-1].what, load.things[-1].colour)
        assert top[1:] == (load.things[0].what, load.things[0].colour)
    assert sum(load.packed_m3 for load in loads) == pytest.approx(
        travelling_volume(one.estimate.make.needed)
    )


def test_bags_are_no_fewer_than_the_room_asks_for_and_evenly_full():
    one = piece(6, bag_m3=0.6)
    loads = [load for load in loads_of([one], one.estimate.rates) if load.clusters]
    base = [line for line in one.estimate.make.needed if line.use == "base"]
    assert len(loads) >= packed_volume(air_volume(base)) / 0.6
    full = [load.clusters for load in loads]
    assert max(full) - min(full[:-1]) <= 1
    assert all(later.from_m >= earlier.to_m for earlier, later in pairwise(loads))


def test_pieces_have_bags_of_their_own_numbered_through():
    one, other = piece(1.5), piece(2.4)
    loads = loads_of([one, other], one.estimate.rates)
    assert [load.number for load in loads] == list(range(1, len(loads) + 1))
    assert [load.piece for load in loads] == sorted(
        (load.piece for load in loads), key=[one, other].index
    )
