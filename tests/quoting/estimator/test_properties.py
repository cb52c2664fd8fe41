"""What holds for any garland whatever: parts add up, and more is never less."""

from collections import Counter
from copy import deepcopy
from math import isfinite
from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from quoting.estimator import (
    Estimate,
    OrderConditions,
    SpecError,
    estimate,
    estimate_to_dict,
    example_catalogue,
    spec_from_dict,
    spec_to_dict,
)

from .garlands import spec_dicts

anything = settings(max_examples=150)


def _estimate_or_reason(data: dict[str, Any]) -> Estimate | None:
    """None when it is refused, which must be with a reason."""
    try:
        return estimate(spec_from_dict(data, catalogue=example_catalogue()))
    except SpecError as refused:
        assert refused.problems
        assert all(p.message for p in refused.problems)
        return None


def _needs(est: Estimate) -> Counter[tuple[str, str, float | None]]:
    """Need and order by colour, kind and size, over all uses."""
    counted: Counter[tuple[str, str, float | None]] = Counter()
    for line in est.balloons:
        counted[line.colour, line.kind, line.nominal_in] += line.need
    return counted


def _orders(est: Estimate) -> Counter[tuple[str, str, float | None]]:
    counted: Counter[tuple[str, str, float | None]] = Counter()
    for line in est.balloons:
        counted[line.colour, line.kind, line.nominal_in] += line.total
    return counted


@anything
@given(spec_dicts())
def test_any_spec_gives_whole_numbers_that_add_up_or_is_refused_with_a_reason(data):
    est = _estimate_or_reason(data)
    if est is None:
        return
    by_use = Counter()
    for line in est.balloons:
        assert all(isinstance(n, int) for n in (line.need, line.spare, line.total))
        assert line.need > 0 and line.spare >= 0
        assert line.need + line.spare == line.total
        assert 0 <= line.low <= line.need <= line.high
        by_use[line.use] += line.need
    made = est.make
    assert made.cluster_count * made.cluster_of == by_use["base"]
    assert sum(made.pairs.values()) * 2 == by_use["base"]
    assert made.minis * 12 == by_use["filler"]
    assert made.starbursts * 12 == by_use["starburst"]
    assert made.singles == by_use["single"]
    assert sum(line.count * line.size for line in made.bunch_lines) == by_use["accent"]
    assert est.count.low <= est.count.body <= est.count.high
    assert est.count.body <= by_use["base"] < est.count.body + made.cluster_of
    figures = (est.path_length_m, est.face_area_m2, est.air_m3, est.packed_m3, est.elapsed_hours)
    assert all(isfinite(figure) and figure > 0 for figure in figures)


@anything
@given(spec_dicts())
def test_pairs_hold_exactly_the_base_balloons_of_every_size(data):
    est = _estimate_or_reason(data)
    assume(est is not None)
    in_pairs = Counter()
    for pair, count in est.make.pairs.items():
        for size in pair.split("-"):
            in_pairs[float(size)] += count
    in_lines = Counter()
    for line in est.balloons:
        if line.use == "base":
            in_lines[line.nominal_in] += line.need
    assert +in_pairs == in_lines


@anything
@given(spec_dicts(), st.integers(0, 40), st.booleans(), st.booleans())
def test_price_lines_add_up_to_the_cent(data, lead_days, outside_hours, strike):
    conditions = OrderConditions(lead_days=lead_days, outside_hours=outside_hours, strike=strike)
    try:
        price = estimate(spec_from_dict(data), conditions=conditions).price
    except SpecError:
        assume(False)
    assert sum(line.amount_cents for line in price.cost_lines) == price.cost_cents
    assert sum(line.amount_cents for line in price.lines) == price.total_cents
    assert price.net_cents + price.tax_cents == price.total_cents
    assert price.net_cents >= price.cost_cents > 0
    assert all(line.why and line.label for line in price.lines)


@anything
@given(spec_dicts())
def test_the_string_holds_everything_that_was_made(data):
    est = _estimate_or_reason(data)
    assume(est is not None)
    on_string = Counter(item.what for item in est.string)
    made = est.make
    assert on_string["cluster"] == made.cluster_count
    assert on_string["accent"] == made.accent_bunches
    assert on_string["mini"] == made.minis
    assert on_string["starburst"] == made.starbursts
    assert on_string["single"] == made.singles
    spots = [item.at for item in est.string]
    assert spots == sorted(spots)
    assert all(0 <= at <= 1 for at in spots)
    by_colour = Counter(i.colour for i in est.string if i.what == "cluster")
    assert by_colour == +Counter({line.colour: line.count for line in made.clusters})


@anything
@given(spec_dicts())
def test_the_same_spec_gives_the_same_estimate(data):
    first, second = _estimate_or_reason(data), _estimate_or_reason(deepcopy(data))
    if first is not None:
        assert estimate_to_dict(first) == estimate_to_dict(second)


@anything
@given(spec_dicts())
def test_a_spec_survives_being_written_and_read(data):
    try:
        spec = spec_from_dict(data)
    except SpecError:
        return
    assert spec_from_dict(spec_to_dict(spec)) == spec


def _longer(data: dict[str, Any], scale: float) -> dict[str, Any]:
    path = {
        key: [[c * scale for c in point] for point in value] if key == "points_m" else value * scale
        for key, value in data["path"].items()
        if key != "kind"
    }
    return data | {"path": {"kind": data["path"]["kind"], **path}}


def _wider(data: dict[str, Any], scale: float) -> dict[str, Any]:
    return data | {"width": [[at, width * scale] for at, width in data["width"]]}


@anything
@given(spec_dicts(), st.floats(1.001, 2), st.sampled_from((_longer, _wider)))
def test_more_length_or_width_never_needs_fewer_balloons_nor_costs_less(data, scale, grow):
    small = _estimate_or_reason(data)
    assume(small is not None)
    large = _estimate_or_reason(grow(data, scale))
    assert large is not None, "growing must not get a garland refused"
    for needs in (_needs, _orders):
        before, after = needs(small), needs(large)
        assert all(after[item] >= count for item, count in before.items())
    assert large.price.cost_cents >= small.price.cost_cents
    assert large.price.total_cents >= small.price.total_cents
    assert large.person_hours >= small.person_hours


@anything
@given(spec_dicts(), st.data())
def test_widening_one_place_never_needs_fewer_balloons(data, choose):
    small = _estimate_or_reason(data)
    assume(small is not None)
    station = choose.draw(st.integers(0, len(data["width"]) - 1))
    wider = deepcopy(data)
    wider["width"][station][1] += choose.draw(st.floats(0.01, 0.5))
    large = _estimate_or_reason(wider)
    before, after = _needs(small), _needs(large)
    assert all(after[item] >= count for item, count in before.items())
    assert large.price.total_cents >= small.price.total_cents
