"""Which unit times of the card a phase's hours speak of.

A clock runs on a phase, not on one size of balloon: four sizes share the hours of `inflate and
tie`. So one factor is learned for each phase, and all of its unit times move by it; how sizes
compare among themselves stays as the card says. The 24-inch time belongs to hanging, as large
singles are inflated at the place. Driving has no unit time: it goes by each site's minutes.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from .. import constants as c
from ..rates import Rates

TIMES_OF_PHASE: Final[Mapping[str, tuple[str, ...]]] = {
    "inflate and tie": ("inflate_5_s", "inflate_11_s", "inflate_17_s"),
    "twist clusters": ("twist_four_s", "twist_eight_s"),
    "mini-clusters": ("mini_s",),
    "starbursts": ("starburst_s",),
    "pack": ("pack_cluster_s",),
    "load and unload": ("load_s", "unload_s"),
    "hang": ("join_cluster_s", "attach_s", "anchor_s", "inflate_24_s"),
    "check and fill": ("check_share",),
    "strike": ("strike_s", "strike_per_m_s"),
}
# What slows a phase, as an observation says it, and the card's factor for it.
CONDITIONS_OF_PHASE: Final[Mapping[str, Mapping[str, str]]] = {
    "hang": {"is_outdoor": "outdoor_factor", "is_cold": "cold_or_rain_factor"},
}
# What the card takes of a number that is not seconds: a proposal stops at the ends.
_LIMITS: Final[Mapping[str, tuple[float, float]]] = {
    "check_share": (0, 2),
    "outdoor_factor": (1, 5),
    "cold_or_rain_factor": (1, 5),
    "fill": (c.RANDOM_CLOSE_PACKING.value, 0.7404),
    "loss_latex": (0, 0.9),
    "loss_large": (0, 0.9),
    "loss_foil": (0, 0.9),
}
_SECONDS: Final = (0.0, 36_000.0)


def card_limits(name: str) -> tuple[float, float]:
    return _LIMITS.get(name, _SECONDS)


def as_on_card(name: str, value: float) -> float:
    """Rounded to what a card is written in (tenths of a second, thousandths of a share or factor)
    and within what it takes."""
    low, high = card_limits(name)
    return min(max(round(value, 3 if name in _LIMITS else 1), low), high)


def rates_with(rates: Rates, changes: Mapping[str, float]) -> Rates:
    """The card with these unit times, or fill and losses, in place of its own."""
    of_times = {name: value for name, value in changes.items() if hasattr(rates.unit_times, name)}
    others = {name: value for name, value in changes.items() if name not in of_times}
    return replace(rates, unit_times=replace(rates.unit_times, **of_times), **others)
