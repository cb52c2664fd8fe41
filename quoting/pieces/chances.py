"""How far a job may fall from its estimate, in words."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from decor.display import hours_text, money_text, percent_text
from quoting.estimator import Estimate
from quoting.estimator.ranges import Effect, Spread, range_of

EFFECTS_SHOWN: Final = 3
_RARE: Final = 1 / 200


@dataclass(frozen=True)
class RangeRow:
    label: str
    low: str
    likely: str
    high: str


@dataclass(frozen=True, kw_only=True)
class ChancePanel:
    """`effects`: what moves the cost most, each in a sentence."""

    rows: tuple[RangeRow, ...]
    least_margin: str
    chance: str
    is_likely: bool
    effects: tuple[str, ...]
    method: str


def chances_of(made: Estimate) -> ChancePanel:
    found = range_of(made)

    def money(cents: float) -> str:
        return money_text(round(cents), made.price.currency)

    rows = (
        _row("Balloons needed", found.balloons, lambda n: f"{n:.0f}"),
        _row("Hours of work", found.person_hours, hours_text),
        _row("Cost", found.cost_cents, money),
        _row("Margin kept", found.margin_bp, lambda bp: percent_text(round(bp / 100) * 100)),
    )
    return ChancePanel(
        rows=rows,
        least_margin=percent_text(found.minimum_margin_bp),
        chance=chance_text(found.least_margin_chance),
        is_likely=found.least_margin_chance > 1 / 4,
        effects=tuple(_effects(found.effects, money)),
        method=found.method,
    )


def _row(label: str, spread: Spread, said: Callable[[float], str]) -> RangeRow:
    return RangeRow(label, said(spread.low), said(spread.likely), said(spread.high))


def _effects(effects: tuple[Effect, ...], money: Callable[[int], str]) -> Iterator[str]:
    for effect in effects[:EFFECTS_SHOWN]:
        said = effect.said(money)
        yield said[:1].upper() + said[1:]


def chance_text(share: float) -> str:
    """`about 1 in 12`; from a half on, how many in ten."""
    if share < _RARE:
        return "less than 1 in 200"
    if share >= 1 - _RARE:
        return "nearly certain"
    if share <= 1 / 2:
        return f"about 1 in {round(1 / share)}"
    return f"about {min(9, round(share * 10))} in 10"
