"""Every rate there is, sorted into folds in the order in which they are applied.

One list serves the form, the page that explains a card, and what changed between two.
"""

from collections.abc import Iterator
from typing import Final

from decor.display import percent_text
from quoting.estimator import PHASES, Rates, rates_to_dict
from quoting.estimator.rates import TIES
from quoting.rate_cards.day_rows import CALLING_OFF_ROWS, RUSH_ROWS
from quoting.rate_cards.lines import Fold, RateLine
from quoting.rate_cards.measures import (
    AIR_FLOW,
    BAG_ROOM,
    CAR_ROOM,
    FORCE,
    WIND,
    Days,
    Money,
    OneOf,
    Percent,
    PerDistance,
    Seconds,
    Share,
    Showing,
    YesNo,
)

MARGIN_MOST_BP: Final = 9500
MARGIN_OUT_OF_RANGE: Final = (
    "Between 0 and 95 %, please: a margin of 100 % would leave nothing of the price for the cost."
)


def _time(name: str, label: str) -> RateLine:
    return RateLine(name=f"unit_times.{name}", label=label, measure=Seconds())


HOURS = Fold(
    key="hours",
    title="Hours and wages",
    intro="Every hour of work is a cost, your own too. How long things take is further down.",
    lines=(
        RateLine(
            name="labour_cents_per_hour",
            label="Wage for an hour",
            measure=Money("an hour"),
            why="Counted for each person at work.",
        ),
        RateLine(
            name="drive_time_paid",
            label="Time on the road",
            measure=YesNo("paid at the wage", "not paid"),
        ),
    ),
    also_title="Another wage for some of the work",
    also=tuple(
        RateLine(
            name=f"labour_cents_by_phase.{phase}",
            label=phase.capitalize(),
            measure=Money("an hour"),
            is_optional=True,
        )
        for phase in PHASES
    ),
)
TRAVEL = Fold(
    key="travel",
    title="Travel",
    lines=(
        RateLine(
            name="travel_cents_per_km",
            label="For each {distance} on the road",
            measure=PerDistance(),
            why="There and back; twice that if you come back to take it down.",
        ),
    ),
)
OVERHEAD = Fold(
    key="overhead",
    title="Kit and overhead",
    lines=(
        RateLine(
            name="kit_wear_cents",
            label="Wear of stands, pumps and tools",
            measure=Money("a piece"),
            why="Added to the cost of each piece.",
        ),
        RateLine(
            name="overhead_bp",
            label="Overhead",
            measure=Percent("of the costs before it"),
            why="Added to materials, hours and travel for what no job pays by itself: rent, "
            "insurance, telephone, this laptop.",
        ),
    ),
)
MARGIN = Fold(
    key="margin",
    title="Margin",
    intro="Margin is the share of the price that is left when all costs are paid. It is not "
    "markup, which is counted on the cost and is always the larger number.",
    lines=(
        RateLine(
            name="margin_bp",
            label="Margin",
            measure=Percent(
                "of the price", max_bp=MARGIN_MOST_BP, out_of_range=MARGIN_OUT_OF_RANGE
            ),
        ),
        RateLine(
            name="minimum_margin_bp",
            label="Least margin worth working for",
            measure=Percent(
                "of the price", max_bp=MARGIN_MOST_BP, out_of_range=MARGIN_OUT_OF_RANGE
            ),
            why="It changes no price. Estimates say how likely a job is to leave less than this.",
        ),
    ),
)
MINIMUM = Fold(
    key="minimum",
    title="Smallest order",
    lines=(
        RateLine(
            name="minimum_cents",
            label="Minimum order",
            measure=Money(),
            why="A smaller order is brought up to this, before tax.",
        ),
    ),
)
RUSH_FOLD = Fold(
    key=RUSH_ROWS.key,
    title="Rush",
    intro="What is added when there is little notice. The tightest that fits is taken, never two.",
)
OUTSIDE = Fold(
    key="outside",
    title="Outside usual hours",
    lines=(
        RateLine(
            name="outside_hours_bp",
            label="Added outside usual hours",
            measure=Percent("of the price"),
            why="Where you tick “outside usual hours” on a quote. Rush and this both count from "
            "the same price.",
        ),
    ),
)
STRIKE = Fold(
    key="strike",
    title="Taking down",
    lines=(
        RateLine(
            name="strike_fee_cents",
            label="Fee for coming back",
            measure=Money(),
            why="Added where taking down is part of the quote, beside its hours and travel.",
        ),
    ),
)
TAX = Fold(
    key="tax",
    title="Tax",
    intro="Which tax you owe is for your tax office or accountant to say; this only counts it.",
    lines=(
        RateLine(name="tax_bp", label="Tax", measure=Percent(), why="0 if you charge none."),
        RateLine(
            name="tax_inclusive",
            label="How prices are said",
            measure=YesNo("tax is in the price", "tax is added on top"),
        ),
    ),
)
ROUNDING = Fold(
    key="rounding",
    title="Rounding",
    lines=(
        RateLine(
            name="rounding_cents",
            label="Round up to a multiple of",
            measure=Money(min_cents=1, max_cents=100_000),
            why="Up, so that rounding never takes from your margin. 0.01 leaves prices as they "
            "are. Where tax is in the price, it is the total that is rounded.",
        ),
    ),
)
PAYING = Fold(
    key="paying",
    title="Deposit and balance",
    lines=(
        RateLine(
            name="deposit_bp",
            label="Deposit",
            measure=Percent("of the total"),
            why="Paid to keep the date.",
        ),
        RateLine(
            name="balance_days",
            label="The rest is due before the event",
            measure=Days(),
        ),
        RateLine(
            name="small_order_cents",
            label="Orders below this are paid in full at once",
            measure=Money(),
            why="0 if you always ask for a deposit first.",
        ),
    ),
)
CALLING_OFF = Fold(
    key=CALLING_OFF_ROWS.key,
    title="Calling off",
    intro="What you keep of the total with its tax when a client calls off, by days of notice. It "
    "stands as a table under the terms of your quotes. Common practice and no rule of law: "
    "what may be kept differs from place to place.",
)
TIMES = Fold(
    key="times",
    title="How long things take",
    intro="For one person who has done it before. Measure your own and put it here: hours are "
    "most of the price of a garland. Write 45 s, 4 min or 1 min 30 s.",
    lines=(
        _time("inflate_5_s", "Inflate and tie one 5-inch"),
        _time("inflate_11_s", "Inflate and tie one 11-inch"),
        _time("inflate_17_s", "Inflate and tie one 17-inch"),
        _time("inflate_24_s", "Inflate and tie one 24-inch"),
        _time("twist_four_s", "Twist a cluster of four"),
        _time("twist_eight_s", "Twist a cluster of eight"),
        _time("mini_s", "Make a mini-cluster"),
        _time("starburst_s", "Make a foil starburst"),
        _time("pack_cluster_s", "Pack a cluster"),
        _time("load_s", "Load the vehicle"),
        _time("unload_s", "Unload the vehicle"),
        _time("join_cluster_s", "Join a cluster on site"),
        _time("attach_s", "Fix a bunch, mini or single on site"),
        _time("anchor_s", "Tie an anchor"),
        _time("strike_s", "Take a piece down, once"),
        _time("strike_per_m_s", "Take it down, for each metre (3 ft 3 in)"),
    ),
    also_title="What slows work down",
    also=(
        RateLine(
            name="unit_times.check_share",
            label="Step back, check and fill",
            measure=Share(0, 2, "of hanging"),
        ),
        RateLine(
            name="unit_times.ladder_factor",
            label="On a ladder",
            measure=Share(1, 5, "longer", above=1),
        ),
        RateLine(
            name="unit_times.cold_or_rain_factor",
            label="In cold or rain",
            measure=Share(1, 5, "longer", above=1),
        ),
        RateLine(
            name="unit_times.outdoor_factor",
            label="Outdoors",
            measure=Share(1, 5, "longer", above=1),
        ),
        RateLine(
            name="unit_times.extra_person_share",
            label="Each further person",
            measure=Share(0, 1, "longer"),
            why="People wait for each other and talk.",
        ),
    ),
)
SPARES = Fold(
    key="spares",
    title="Spares",
    intro="How many burst, leak or come out the wrong shade. More are ordered than are needed, so "
    "that there are enough nineteen times out of twenty, or as often as a piece asks for.",
    lines=(
        RateLine(
            name="loss_latex", label="Lost of latex", measure=Share(0, 0.9, "of the balloons")
        ),
        RateLine(
            name="loss_large",
            label="Lost of 24-inch and larger",
            measure=Share(0, 0.9, "of the balloons"),
        ),
        RateLine(
            name="loss_foil", label="Lost of foil points", measure=Share(0, 0.9, "of the points")
        ),
    ),
    also_title="How tightly balloons fill a garland",
    also=(
        RateLine(
            name="fill",
            label="Fill",
            measure=Share(0.64, 0.7404, "of the space"),
            why="Change it only if your own garlands take more or fewer balloons than estimates "
            "say, again and again.",
        ),
    ),
)
LIMITS = Fold(
    key="limits",
    title="Limits and loads",
    intro="Estimates warn when a piece goes past these. They are a caution and no structural "
    "design: where it matters, ask a licensed rigger and follow your local rules.",
    lines=(
        RateLine(
            name="wind_limit_mps",
            label="Do not install in gusts over",
            measure=WIND,
            why="Past this the answer is “do not install”.",
        ),
        RateLine(
            name="tie_strength_n",
            label="What one of your ties holds safely",
            measure=FORCE,
            why="Its working load as its maker states it, not the load at which it breaks.",
        ),
        RateLine(name="tie", label="Bunches and minis are fixed with", measure=OneOf(TIES)),
        RateLine(name="pump_m3_per_min", label="Your pump gives", measure=AIR_FLOW),
        RateLine(name="packing_bag_m3", label="One packing bag holds", measure=BAG_ROOM),
        RateLine(name="vehicle_m3", label="Your vehicle holds", measure=CAR_ROOM),
    ),
)

# In the order in which they are applied, then what does not make a price.
FOLDS: Final = (
    HOURS,
    TRAVEL,
    OVERHEAD,
    MARGIN,
    MINIMUM,
    RUSH_FOLD,
    OUTSIDE,
    STRIKE,
    ROUNDING,
    TAX,
    PAYING,
    CALLING_OFF,
    TIMES,
    SPARES,
    LIMITS,
)


def every_line() -> Iterator[RateLine]:
    for fold in FOLDS:
        yield from fold.all_lines


def card_summary(rates: Rates, showing: Showing) -> str:
    """What tells one card from another at a glance."""
    data = rates_to_dict(rates)
    wage, margin = HOURS.lines[0], MARGIN.lines[0]
    return f"{wage.text(data, showing)}, margin {margin.text(data, showing)}"


def rush_text(rates: Rates) -> str:
    """`25 % with 3 days’ notice or less, 10 % with 7 days’ notice or less`, tightest first."""
    tiers = sorted(rates.rush, key=lambda tier: tier.within_days)
    said = [f"{percent_text(tier.extra_bp)} {_notice(tier.within_days)}" for tier in tiers]
    return ", ".join(said) or "none"


def _notice(days: int) -> str:
    if days == 0:
        return "on the day itself"
    return f"with {days} {'day’s' if days == 1 else 'days’'} notice or less"
