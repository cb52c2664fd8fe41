import ast
import re
from decimal import ROUND_HALF_UP, Decimal
from math import ceil, floor, pi, sinh, sqrt

import pytest
from hypothesis import assume, given, settings
from scipy.stats import binom

from quoting.estimator import (
    Catalogue,
    OrderConditions,
    Rates,
    SpecError,
    UnitTimes,
    estimate,
    example_catalogue,
    spec_from_dict,
)
from quoting.estimator.explain import explain, explanations, line_key, price_keys

from .garlands import garland, plain_garland, specs

FULL = OrderConditions(lead_days=2, outside_hours=True, strike=True)
# Each printed number has six digits; the longest formula multiplies five of them.
PRINTED = 1e-4
WHOLE_UNITS = {"each", "pairs", "loads"}
PIECES = {
    "arch": garland(),
    "plain": plain_garland(),
    "wall": garland(backing="flat", cluster_of=4, accents=[]),
    "posts": garland(path={"kind": "posts", "width_m": 3, "height_m": 2.2}, crew=3),
    "swag": garland(path={"kind": "swag", "span_m": 3, "sag_m": 0.6}, starbursts=[]),
    "ring": plain_garland(path={"kind": "ring", "diameter_m": 1.5}),
    "drape": garland(path={"kind": "drape", "points_m": [[0, 0, 0], [1, 0.5, 1], [3, 0, 2]]}),
    "long drape": plain_garland(
        path={"kind": "drape", "points_m": [[i / 2, 0, i % 2] for i in range(9)]}
    ),
    "two colours": garland(
        fillers={"minis_per_m2": 2, "colours": ["oat", "fern"]},
        singles={"per_m": 0.5, "colours": ["oat", "plum", "fern"]},
    ),
    "no room at the low end": plain_garland(
        accents=[{"colour": "marigold", "inflated_in": [9, 9], "share": 0.95}],
        singles={"per_m": 0.09, "colours": ["oat"]},
    ),
    "windy": plain_garland(site={"gust_mps": 9.5, "outdoor": True}, width=[[0, 2], [1, 2]]),
}
RATES = {
    "usual": Rates(),
    "inclusive": Rates(tax_inclusive=True, rounding_cents=500, minimum_cents=60_000),
    "line": Rates(tie="fishing line", fill=0.69, tie_strength_n=20),
}


def up(x: float) -> int:
    return ceil(x - 1e-9)


def enough(need: float, loss: float, sure: float) -> int:
    ordered = int(need)
    while binom.sf(need - 1, ordered, 1 - loss) < sure:
        ordered += 1
    return ordered


def cents(x: float) -> float:
    # Printed products end in binary dust; a hundredth of a cent is well under a tie's width.
    exact = Decimal(repr(round(x, 8)))
    return float(exact.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP))


WORDS = {
    "up": up,
    "down": lambda x: floor(x + 1e-9),
    "tenths": lambda x: up(x * 10) / 10,
    "cents": cents,
    "enough": enough,
    "max": max,
    "min": min,
    "sinh": sinh,
    "sqrt": sqrt,
    "π": pi,
}


def worked(formula: str) -> float:
    plain = formula.replace("×", "*").replace("−", "-").replace("√", "sqrt")
    plain = plain.replace("²", "**2").replace("³", "**3")
    ast.parse(plain, mode="eval")
    return eval(plain, {"__builtins__": {}}, WORDS)


def assert_true(found) -> None:
    ours = worked(found.with_numbers)
    if found.unit in WHOLE_UNITS:
        assert ours == pytest.approx(found.value, abs=1e-4), found
    elif found.unit == "USD":
        assert ours == pytest.approx(found.value, abs=0.0101), found
    else:
        assert ours == pytest.approx(found.value, rel=PRINTED, abs=1e-9), found


@pytest.mark.parametrize("piece", PIECES)
@pytest.mark.parametrize("rates", RATES)
def test_every_formula_with_its_printed_numbers_gives_the_figure(piece, rates):
    est = estimate(spec_from_dict(PIECES[piece]), rates=RATES[rates], conditions=FULL)
    for found in explanations(est).values():
        assert_true(found)


@given(specs())
@settings(max_examples=25)
def test_formulas_of_any_piece_give_its_figures(spec):
    try:
        est = estimate(spec)
    except SpecError:
        return
    # A count that six printed digits could round the other way proves nothing.
    base = est.count.likely.base
    assume(abs(base - round(base)) > 1e-3)
    for found in explanations(est).values():
        assert_true(found)


def figures(est) -> dict[str, float]:
    """What the owner's page shows, by key, from the estimate itself."""
    make, packing, price = est.make, est.packing, est.price
    return {
        "path length": est.path_length_m,
        "face area": est.face_area_m2,
        "envelope": est.envelope_m3,
        "body": est.count.body,
        "count low": est.count.low,
        "count high": est.count.high,
        "clusters": make.cluster_count,
        **{f"clusters {line.colour}": line.count for line in make.clusters},
        **{f"pairs {name}": count for name, count in make.pairs.items()},
        "minis": make.minis,
        "singles": make.singles,
        **{f"accent bunches {line.colour}": line.count for line in make.bunch_lines},
        **{f"need {line_key(line)}": line.need for line in est.balloons},
        **{f"spares {line_key(line)}": line.spare for line in est.balloons},
        "anchors": est.wind.anchors,
        **{f"sundry {line.item}": line.quantity for line in est.sundries},
        "air": est.air_m3,
        "pump minutes": est.pump_minutes,
        "packed": est.packed_m3,
        "travels": packing.travels_m3,
        "loads": packing.loads,
        "wind pressure": est.wind.pressure_pa,
        "wind force": est.wind.force_n,
        "force per anchor": est.wind.force_per_anchor_n,
        **{f"hours {line.phase}": line.person_hours for line in est.labour},
        "person hours": est.person_hours,
        "elapsed hours": est.elapsed_hours,
        **{
            key: line.amount_cents / 100
            for key, line in zip(price_keys(price), price.lines, strict=True)
        },
        "cost": price.cost_cents / 100,
        "net": price.net_cents / 100,
        "total": price.total_cents / 100,
        "margin": (price.net_cents - price.cost_cents) / price.net_cents,
    }


@pytest.mark.parametrize("conditions", [FULL, OrderConditions()])
def test_every_figure_has_an_explanation_and_nothing_else_has(conditions):
    est = estimate(spec_from_dict(garland()), conditions=conditions)
    assert {key: found.value for key, found in explanations(est).items()} == figures(est)


def test_an_explanation_names_constants_where_they_come_from_and_their_range():
    est = estimate(spec_from_dict(garland()))
    fill = explain(est, "body").parts[0]
    assert (fill.symbol, fill.value, fill.low, fill.high) == ("φ", 0.70, 0.685, 0.715)
    assert fill.provenance.startswith("your rate card, still derived")
    own = estimate(spec_from_dict(garland()), rates=Rates(fill=0.68))
    assert explain(own, "body").parts[0].provenance == "your rate card"


def test_a_time_says_whether_it_is_the_makers_own():
    spec = spec_from_dict(garland())
    usual = explain(estimate(spec), "hours twist clusters").parts[-1]
    assert usual.provenance == "your rate card, still the one that everybody begins with"
    rates = Rates(unit_times=UnitTimes(twist_eight_s=14.5, inflate_11_s=14.1))
    own = estimate(spec, rates=rates)
    twist = explain(own, "hours twist clusters").parts[-1]
    assert (twist.shown, twist.provenance) == ("14.5", "your rate card, your own")
    inflating = explain(own, "hours inflate and tie").parts
    whose = {part.what: part.provenance.split(", ")[-1] for part in inflating if part.unit == "s"}
    assert whose["one 11-inch"] == "your own"
    assert whose["one 17-inch"] != "your own"


def test_every_part_can_be_followed_and_is_in_its_formula():
    for piece in PIECES.values():
        found = explanations(estimate(spec_from_dict(piece), conditions=FULL))
        for one in found.values():
            assert one.title and one.to_change.endswith(".")
            symbols = [part.symbol for part in one.parts]
            assert len(symbols) == len(set(symbols))
            for part in one.parts:
                assert re.search(rf"(?<!\w){re.escape(part.symbol)}(?![A-Za-z0-9_])", one.formula)
                assert part.what and part.unit and part.provenance
                assert not part.see or part.see in found


def test_it_changes_with_what_it_explains():
    slow = Rates(unit_times=UnitTimes(starburst_s=600))
    est = estimate(spec_from_dict(garland()), rates=slow)
    assert explain(est, "hours starbursts").with_numbers == "3 × 600 / 3600"
    assert explain(est, "wind pressure").with_numbers == "0.613 × 9²"


def test_two_items_of_one_name_are_told_apart():
    items = tuple(
        item if item.colour != "fern" else type(item)(**{**vars(item), "name": "Oat"})
        for item in example_catalogue().items
    )
    catalogue = Catalogue(items=items, sundries=example_catalogue().sundries)
    est = estimate(spec_from_dict(garland()), catalogue=catalogue)
    found = explanations(est)
    assert_true(found["price Oat 11 in"])
    assert_true(found["price Oat 11 in (2)"])
    assert found["price Oat 11 in"].value != found["price Oat 11 in (2)"].value


def test_an_unknown_figure_is_a_key_error():
    with pytest.raises(KeyError):
        explain(estimate(spec_from_dict(garland())), "weight")


def test_it_says_in_numbers_what_would_change_it():
    found = explanations(estimate(spec_from_dict(garland())))
    assert found["price margin"].to_change.startswith("One point more of margin")
    dearer = estimate(spec_from_dict(garland()), rates=Rates(margin_bp=3600))
    more = explain(dearer, "price margin").value - found["price margin"].value
    assert f"adds {more:.2f} here" in found["price margin"].to_change
    assert found["hours inflate and tie"].to_change.endswith("saves 3 min and 1.20.")
    pair = estimate(spec_from_dict(garland(crew=2, travel=None))).elapsed_hours
    alone = estimate(spec_from_dict(garland(travel=None)))
    assert explain(alone, "elapsed hours").to_change == f"With one more person it is {pair:.1f} h."
