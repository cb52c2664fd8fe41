"""What the business charges and how fast it works: a rate card, as the estimator sees it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields
from itertools import pairwise
from typing import Any, Final

from . import constants as c
from .problems import Problem, RatesError
from .shapes import Choice, Each, Field, Number, Record, Shape, Table, Text, Whole, YesNo

PHASES: Final = (
    "inflate and tie",
    "twist clusters",
    "mini-clusters",
    "starbursts",
    "pack",
    "load and unload",
    "drive",
    "hang",
    "check and fill",
    "strike",
)
TIES: Final = ("rubber band", "modelling balloon", "fishing line")


@dataclass(frozen=True, kw_only=True)
class UnitTimes:
    """Seconds of one person for one of each, and what slows them down.

    From memory unless marked; look-backs replace them.
    """

    inflate_5_s: float = 9.0
    inflate_11_s: float = 12.0  # 100 of 11-inch in 20 min alone: balloonhq.com
    inflate_17_s: float = 18.0
    inflate_24_s: float = 45.0
    twist_four_s: float = 18.0  # with tying, 24 fours in about 30 min: the deco arch of 96
    twist_eight_s: float = 25.0
    mini_s: float = 45.0
    starburst_s: float = 240.0
    pack_cluster_s: float = 10.0
    load_s: float = 900.0
    unload_s: float = 900.0
    join_cluster_s: float = 45.0
    attach_s: float = 20.0
    anchor_s: float = 120.0
    strike_s: float = 720.0
    strike_per_m_s: float = 120.0
    check_share: float = 0.15
    ladder_factor: float = 1.35
    cold_or_rain_factor: float = 1.25
    outdoor_factor: float = 1.0  # nothing is known of it until look-backs say
    extra_person_share: float = 0.05


@dataclass(frozen=True, kw_only=True)
class RushTier:
    """With this many days' notice or fewer, so much is added to the price."""

    within_days: int
    extra_bp: int


@dataclass(frozen=True, kw_only=True)
class CallingOffBand:
    """Called off with at least this many days' notice, so much of the total is kept."""

    from_days: int
    keep_bp: int


@dataclass(frozen=True, kw_only=True)
class Rates:
    """Whole cents, basis points (10 000 are all of it), metres, seconds.

    `labour_cents_by_phase` overrides `labour_cents_per_hour` for the phases it names.
    `margin_bp` is of the price, not of the cost; a job that leaves less than
    `minimum_margin_bp` was not worth taking. The defaults are an invented business; but what
    older cards say nothing of defaults to nothing, as no client of theirs was told of it: orders
    under `small_order_cents` are paid in full at once, and `calling_off` says what is kept.
    """

    currency: str = "USD"
    labour_cents_per_hour: int = 2600
    labour_cents_by_phase: Mapping[str, int] = field(default_factory=dict)
    margin_bp: int = 3500
    minimum_margin_bp: int = 2000
    overhead_bp: int = 1000
    minimum_cents: int = 18_000
    rush: tuple[RushTier, ...] = (
        RushTier(within_days=3, extra_bp=2500),
        RushTier(within_days=7, extra_bp=1000),
    )
    outside_hours_bp: int = 1500
    travel_cents_per_km: float = 45.0  # a fraction, as a rate by the mile is one by the km
    drive_time_paid: bool = True
    strike_fee_cents: int = 3500
    kit_wear_cents: int = 400
    tax_bp: int = 550
    tax_inclusive: bool = False
    rounding_cents: int = 100
    deposit_bp: int = 5000
    balance_days: int = 5
    small_order_cents: int = 0
    calling_off: tuple[CallingOffBand, ...] = ()
    unit_times: UnitTimes = UnitTimes()
    fill: float = c.FILL.value
    loss_latex: float = c.LOSS_LATEX.value
    loss_large: float = c.LOSS_LARGE.value
    loss_foil: float = c.LOSS_FOIL.value
    tie: str = TIES[0]
    tie_strength_n: float = 40.0
    wind_limit_mps: float = 10.0
    pump_m3_per_min: float = 0.6
    packing_bag_m3: float = 0.35
    vehicle_m3: float = c.SMALL_VAN_M3.value

    def labour_rate(self, phase: str) -> int:
        """Cents an hour."""
        return self.labour_cents_by_phase.get(phase, self.labour_cents_per_hour)


# Common practice, no source: the nearer the day, the less of the work can be saved.
EXAMPLE_CALLING_OFF: Final = (
    CallingOffBand(from_days=30, keep_bp=2500),
    CallingOffBand(from_days=14, keep_bp=5000),
    CallingOffBand(from_days=7, keep_bp=7500),
    CallingOffBand(from_days=0, keep_bp=10_000),
)


def example_rates() -> Rates:
    return Rates(small_order_cents=20_000, calling_off=EXAMPLE_CALLING_OFF)


def rates_from_dict(data: Mapping[str, Any]) -> Rates:
    """Raises RatesError with every problem; what is left out keeps its default."""
    problems: list[Problem] = []
    read = _RATES_SHAPE.read_fields(data, "", problems)
    if problems:
        raise RatesError(problems)
    read.pop("version")
    return Rates(**read)


def rates_to_dict(rates: Rates) -> dict[str, Any]:
    return {
        "version": 1,
        **vars(rates),
        "labour_cents_by_phase": dict(rates.labour_cents_by_phase),
        "rush": [dict(vars(tier)) for tier in rates.rush],
        "calling_off": [dict(vars(band)) for band in rates.calling_off],
        "unit_times": dict(vars(rates.unit_times)),
    }


def _days_once(tiers: Sequence[RushTier], key: str) -> Iterator[Problem]:
    days = [tier.within_days for tier in tiers]
    for i, day in enumerate(days):
        if day in days[:i]:
            yield Problem(f"{key}[{i}].within_days", "is given twice")


def _bands_in_order(bands: Sequence[CallingOffBand], key: str) -> Iterator[Problem]:
    """Every number of days falls in a band, and less notice never keeps less."""
    for i, (longer, shorter) in enumerate(pairwise(bands), start=1):
        if shorter.from_days >= longer.from_days:
            yield Problem(f"{key}[{i}].from_days", "must be fewer than in the band before")
        if shorter.keep_bp < longer.keep_bp:
            yield Problem(f"{key}[{i}].keep_bp", "must not be less than in the band before")
    if bands and bands[-1].from_days:
        yield Problem(f"{key}[{len(bands) - 1}].from_days", "must be 0 in the last band")


_bp = Whole(0, 10_000, "basis points")
_cents = Whole(0, 100_000_000, "cents")
_loss = Number(0, 0.9, about="share lost")
_TIME_SHAPES: Final[Mapping[str, Shape]] = {
    "check_share": Number(0, 2),
    "ladder_factor": Number(1, 5),
    "cold_or_rain_factor": Number(1, 5),
    "outdoor_factor": Number(1, 5),
    "extra_person_share": Number(0, 1),
}
_UNIT_TIMES_SHAPE = Record(
    UnitTimes,
    {
        f.name: Field(_TIME_SHAPES.get(f.name, Number(0, 36_000, "seconds")), f.default)
        for f in fields(UnitTimes)
    },
)
_RUSH_SHAPE = Record(
    RushTier,
    {"within_days": Field(Whole(0, 365, "days")), "extra_bp": Field(_bp)},
)
_BAND_SHAPE = Record(
    CallingOffBand,
    {"from_days": Field(Whole(0, 365, "days")), "keep_bp": Field(_bp)},
)
_SHAPES: Final[Mapping[str, Shape]] = {
    "currency": Text(3),
    "labour_cents_per_hour": _cents,
    "labour_cents_by_phase": Table(PHASES, _cents),
    "margin_bp": Whole(0, 9500, "basis points of the price"),
    "minimum_margin_bp": Whole(0, 9500, "basis points of the price"),
    "overhead_bp": _bp,
    "minimum_cents": _cents,
    "rush": Each(_RUSH_SHAPE, 0, 10, _days_once),
    "outside_hours_bp": _bp,
    "travel_cents_per_km": Number(0, 1_000_000, "cents"),
    "drive_time_paid": YesNo(),
    "strike_fee_cents": _cents,
    "kit_wear_cents": _cents,
    "tax_bp": _bp,
    "tax_inclusive": YesNo(),
    "rounding_cents": Whole(1, 100_000, "cents"),
    "deposit_bp": _bp,
    "balance_days": Whole(0, 365, "days"),
    "small_order_cents": _cents,
    "calling_off": Each(_BAND_SHAPE, 0, 10, _bands_in_order),
    "unit_times": _UNIT_TIMES_SHAPE,
    "fill": Number(c.RANDOM_CLOSE_PACKING.value, 0.7404, about="of the envelope"),
    "loss_latex": _loss,
    "loss_large": _loss,
    "loss_foil": _loss,
    "tie": Choice(TIES),
    "tie_strength_n": Number(1, 5000, "N"),
    "wind_limit_mps": Number(0, 60, "m/s"),
    "pump_m3_per_min": Number(0.01, 20, "m3/min"),
    "packing_bag_m3": Number(0.01, 10, "m3"),
    "vehicle_m3": Number(0.1, 100, "m3"),
}
_DEFAULTS: Final = vars(Rates())
_RATES_SHAPE: Final = Record(
    Rates,
    {
        "version": Field(Choice((1,)), 1),
        **{name: Field(shape, _DEFAULTS[name]) for name, shape in _SHAPES.items()},
    },
)
