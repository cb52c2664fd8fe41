from decimal import Decimal

import pytest

from quoting.estimator import (
    Catalogue,
    CatalogueItem,
    Discount,
    ExtraLine,
    OrderConditions,
    Price,
    PriceLine,
    Rates,
    RushTier,
    SundryItem,
    UnitTimes,
    estimate,
    example_catalogue,
    price_order,
    share_net_among,
    spec_from_dict,
)

from .garlands import garland, plain_garland

PLAIN = Rates(
    margin_bp=0,
    overhead_bp=0,
    minimum_cents=0,
    rush=(),
    tax_bp=0,
    rounding_cents=1,
    kit_wear_cents=0,
)


def rates(**changes) -> Rates:
    return Rates(**(vars(PLAIN) | changes))


def priced(card: Rates, *, extra_lines=(), discount=None, pieces=1, **conditions) -> Price:
    est = estimate(spec_from_dict(plain_garland()), rates=card)
    return price_order(
        [est] * pieces,
        rates=card,
        conditions=OrderConditions(**conditions),
        extra_lines=extra_lines,
        discount=discount,
    )


def step(price: Price, kind: str) -> PriceLine:
    (line,) = (line for line in price.lines if line.kind == kind)
    return line


COST = priced(PLAIN).cost_cents


def test_with_nothing_added_the_price_is_the_cost():
    price = priced(PLAIN)
    assert price.total_cents == price.net_cents == price.cost_cents > 0
    assert price.step_lines == ()
    assert price.margin_bp == 0


def test_margin_is_a_share_of_the_price():
    price = priced(rates(margin_bp=5000))
    assert price.net_cents == 2 * price.cost_cents
    assert price.margin_bp == 5000
    assert "margin, not a markup" in step(price, "margin").why


def test_overhead_is_a_share_of_every_other_cost():
    price = priced(rates(overhead_bp=1000))
    assert step(price, "overhead").amount_cents == (COST + 5) // 10


def test_a_small_order_is_brought_up_to_the_minimum_and_a_large_one_left_alone():
    short = priced(rates(minimum_cents=50_000))
    assert step(short, "minimum").amount_cents == 50_000 - COST
    assert "500.00" in step(short, "minimum").why
    assert priced(rates(minimum_cents=100)).step_lines == ()


@pytest.mark.parametrize(
    ("lead_days", "bp"), [(0, 2500), (3, 2500), (4, 1000), (7, 1000), (8, None), (None, None)]
)
def test_rush_is_charged_by_the_tightest_tier_reached(lead_days, bp):
    tiers = (RushTier(within_days=7, extra_bp=1000), RushTier(within_days=3, extra_bp=2500))
    price = priced(rates(rush=tiers, minimum_cents=50_000), lead_days=lead_days)
    charged = [line.amount_cents for line in price.lines if line.kind == "rush"]
    assert charged == ([50_000 * bp // 10_000] if bp else [])


def test_rush_and_outside_hours_do_not_multiply_each_other():
    card = rates(
        rush=(RushTier(within_days=7, extra_bp=1000),), outside_hours_bp=2000, minimum_cents=50_000
    )
    price = priced(card, lead_days=1, outside_hours=True)
    assert price.net_cents == 50_000 + 5_000 + 10_000


def test_taking_down_has_a_fee_besides_its_hours():
    card = rates(strike_fee_cents=3500)
    price = priced(card, strike=True)
    assert step(price, "strike").amount_cents == 3500
    assert any(line.label == "strike" and line.kind == "labour" for line in price.lines)


@pytest.mark.parametrize(
    ("discount", "taken"),
    [
        (Discount(label="friend", bp=1000), 5_000),
        (Discount(label="friend", amount_cents=1234), 1_234),
        (Discount(label="friend", bp=1000, amount_cents=1000), 6_000),
        (Discount(label="friend", amount_cents=999_999), 50_000),
    ],
)
def test_a_discount_is_taken_last_and_never_below_nothing(discount, taken):
    price = priced(rates(minimum_cents=50_000), discount=discount)
    assert step(price, "discount").amount_cents == -taken
    assert price.net_cents == 50_000 - taken
    assert price.margin_bp <= 10_000


def test_extra_lines_carry_no_margin_and_count_towards_the_minimum():
    extra = ExtraLine(label="Stand hire", amount_cents=4000)
    price = priced(rates(minimum_cents=50_000), extra_lines=[extra])
    assert step(price, "extra").amount_cents == 4000
    assert price.net_cents == 50_000


def test_tax_on_top_is_exact_on_the_rounded_net():
    price = priced(rates(tax_bp=725, rounding_cents=500))
    assert price.net_cents % 500 == 0
    assert 0 <= price.net_cents - COST < 500
    assert price.tax_cents == (price.net_cents * 725 + 5000) // 10_000


def test_prices_with_tax_in_them_are_rounded_as_the_client_sees_them():
    price = priced(rates(tax_bp=2000, rounding_cents=500, tax_inclusive=True))
    assert price.total_cents % 500 == 0
    assert price.net_cents == round(price.total_cents / 1.2)
    assert price.net_cents >= COST


def test_the_steps_come_in_the_stated_order():
    card = rates(
        overhead_bp=1000,
        margin_bp=3000,
        minimum_cents=90_000,
        rush=(RushTier(within_days=9, extra_bp=500),),
        strike_fee_cents=100,
        tax_bp=550,
        rounding_cents=10_000,
    )
    price = priced(
        card,
        lead_days=2,
        outside_hours=True,
        strike=True,
        extra_lines=[ExtraLine(label="Stand", amount_cents=1)],
        discount=Discount(label="friend", bp=100),
    )
    assert [line.kind for line in price.step_lines] == [
        "margin",
        "extra",
        "minimum",
        "rush",
        "outside hours",
        "strike",
        "discount",
        "rounding",
        "tax",
    ]
    assert [line.kind for line in price.lines][-10] == "overhead"


def test_travel_and_the_minimum_are_charged_once_for_an_order_of_three():
    card = rates(travel_cents_per_km=50, minimum_cents=1)
    one, three = (priced(card, pieces=n, distance_km=10, drive_minutes=30) for n in (1, 3))
    for label in ("travel", "drive", "load and unload"):
        (once,) = (line.amount_cents for line in one.lines if line.label == label)
        assert [line.amount_cents for line in three.lines if line.label == label] == [once]
    assert step(three, "travel").amount_cents == 1000


def test_the_way_is_said_in_the_units_of_the_reader():
    # 1609.344 m to the mile: international yard and pound agreement, 1959.
    card = rates(travel_cents_per_km=70 / 1.609344)
    travel = step(priced(card, distance_km=16.09344), "travel")
    assert travel.said("metric") == "1 round trip, 32.2 km in all at 43.5 cents a km"
    assert travel.said("imperial") == "1 round trip, 20 miles in all at 70 cents a mile"


def test_what_is_sold_by_length_is_said_in_feet_or_metres():
    (line,) = (line for line in priced(PLAIN).lines if line.label == "curling ribbon")
    assert "m at" in line.said("metric") and "a m" in line.said("metric")
    assert "ft" in line.said("imperial") and "a foot" in line.said("imperial")
    bands = next(line for line in priced(PLAIN).lines if line.label == "packing bag")
    assert bands.said("imperial") == bands.said("metric")


def test_a_special_order_colour_is_charged_by_the_bag_once_for_all_pieces():
    bag = CatalogueItem(
        colour="oat",
        name="Oat",
        kind="latex",
        nominal_in=11.0,
        bag_count=1000,
        bag_cents=9000,
        special_order=True,
        hex="#E8DCC6",
    )
    est = estimate(spec_from_dict(plain_garland()), catalogue=Catalogue(items=(bag,)), rates=PLAIN)
    price = price_order([est, est], rates=PLAIN, conditions=OrderConditions())
    assert step(price, "materials").amount_cents == 9000
    assert "1 whole bag" in step(price, "materials").why


def test_materials_used_are_charged_by_their_part_of_the_bag():
    est = estimate(spec_from_dict(plain_garland()), rates=PLAIN)
    (line,) = (line for line in est.price.lines if line.kind == "materials")
    total = est.balloons[0].total
    assert line.amount_cents == (total * 1650 + 50) // 100
    assert str(total) in line.why


def test_a_sundry_without_a_price_is_named_and_costs_nothing():
    items = example_catalogue().items
    ribbon = SundryItem(item="curling ribbon", unit="m", unit_cents=Decimal("5"))
    catalogue = Catalogue(items=items, sundries=(ribbon,))
    est = estimate(spec_from_dict(plain_garland()), catalogue=catalogue, rates=PLAIN)
    labels = {line.label: line.amount_cents for line in est.price.cost_lines}
    assert labels["curling ribbon"] == 12
    assert labels["packing bag"] == 0


def test_labour_may_have_a_rate_of_its_own_by_phase():
    cheap_drive = rates(labour_cents_by_phase={"drive": 100})
    price = priced(cheap_drive, drive_minutes=30)
    (drive,) = (line.amount_cents for line in price.lines if line.label == "drive")
    assert drive == 100


def test_drivers_are_cost_lines_the_dearest_first():
    est = estimate(spec_from_dict(garland()))
    amounts = [line.amount_cents for line in est.drivers]
    assert amounts == sorted(amounts, reverse=True)
    assert sum(amounts) == est.price.cost_cents


def test_the_order_is_shared_among_its_pieces_to_the_cent():
    small, large = (
        estimate(spec_from_dict(plain_garland(path={"kind": "line", "length_m": metres})))
        for metres in (2, 6)
    )
    shares = share_net_among(100_001, [small, large, small])
    assert sum(shares) == 100_001
    assert shares[0] == pytest.approx(shares[2], abs=1)
    assert shares[1] > 2 * shares[0]


def test_a_price_that_does_not_add_up_cannot_exist():
    line = PriceLine(label="x", amount_cents=100, why="y", kind="materials")
    good = {
        "currency": "USD",
        "cost_cents": 100,
        "net_cents": 100,
        "tax_cents": 0,
        "total_cents": 100,
        "lines": (line,),
    }
    assert Price(**good)
    for wrong in ({"tax_cents": 1}, {"cost_cents": 99}, {"lines": (line, line)}):
        with pytest.raises(ValueError, match="add up"):
            Price(**(good | wrong))


def test_an_order_of_extra_lines_only_costs_nothing_to_make():
    price = price_order(
        [],
        rates=rates(unit_times=UnitTimes()),
        conditions=OrderConditions(),
        extra_lines=[ExtraLine(label="Delivery", amount_cents=2500)],
    )
    assert (price.cost_cents, price.net_cents) == (0, 2500)


def test_a_specs_own_travel_is_used_when_it_is_alone():
    travel = {"distance_km": 10, "minutes": 0}
    est = estimate(spec_from_dict(plain_garland(travel=travel)), rates=rates())
    assert step(est.price, "travel").amount_cents == 20 * 45
