"""A figure taken apart: its formula, the numbers in it, where each comes from."""

import re
from dataclasses import dataclass
from typing import Final

from ..constants import Constant

THIS_PIECE: Final = "this piece, as you described it"
RATE_CARD: Final = "your rate card"
CATALOGUE: Final = "your catalogue"
WHOLE_SHARES: Final = "Webster's method: whole things shared out, none taken back by growth"
_NAME: Final = re.compile(r"[^\W\d][A-Za-z0-9_]*")  # G of G², n1


@dataclass(frozen=True, kw_only=True)
class Term:
    """One number of a formula. `see` is the key of its own explanation, where it has one."""

    symbol: str
    what: str
    value: float
    unit: str
    provenance: str
    low: float | None = None
    high: float | None = None
    see: str = ""

    @property
    def shown(self) -> str:
        return shown(self.value, self.unit)


def shown(value: float, unit: str) -> str:
    """Six digits, which carry any figure here; amounts of money with their two decimals."""
    if unit.isupper() and len(unit) == 3:
        return f"{value:.2f}"
    if float(value).is_integer():
        return f"{value:.0f}"
    return f"{value:.6g}"


@dataclass(frozen=True, kw_only=True)
class Explanation:
    """`formula` is in the symbols of its `parts`; its value is the figure itself.

    Beside the usual signs a formula may use π, √, `up` and `down` (to whole numbers),
    `tenths` (up to tenths), `cents` (half up to cents), `max`, `min`, `sinh`, and
    `enough(need, loss, sure)`: the fewest to order that leave enough when some are lost.
    """

    key: str
    title: str
    formula: str
    parts: tuple[Term, ...]
    value: float
    unit: str
    to_change: str

    @property
    def with_numbers(self) -> str:
        """The formula with every symbol replaced by its number."""
        numbers = {part.symbol: part.shown for part in self.parts}

        def number(found: re.Match[str]) -> str:
            text = numbers.get(found[0], found[0])
            return f"({text})" if text.startswith("-") else text

        return _NAME.sub(number, self.formula)

    @property
    def shown(self) -> str:
        return shown(self.value, self.unit)


def of_piece(symbol: str, what: str, value: float, unit: str) -> Term:
    return Term(symbol=symbol, what=what, value=value, unit=unit, provenance=THIS_PIECE)


def of_constant(symbol: str, what: str, constant: Constant) -> Term:
    return Term(
        symbol=symbol,
        what=what,
        value=constant.value,
        unit=constant.unit,
        provenance=f"{constant.provenance}{': ' if constant.why else ''}{constant.why}",
        low=constant.low,
        high=constant.high,
    )


def of_rates(
    symbol: str, what: str, value: float, unit: str, usual: Constant | None = None
) -> Term:
    """`usual` is where the value comes from as long as the business has not put its own."""
    if usual is not None and usual.value == value:
        term = of_constant(symbol, what, usual)
        return Term(**{**vars(term), "provenance": f"{RATE_CARD}, still {term.provenance}"})
    return Term(symbol=symbol, what=what, value=value, unit=unit, provenance=RATE_CARD)


def worked_out(symbol: str, what: str, value: float, unit: str, *, see: str = "") -> Term:
    provenance = "worked out above" if see else "worked out from this piece"
    return Term(symbol=symbol, what=what, value=value, unit=unit, provenance=provenance, see=see)


def rounding(symbol: str, value: float) -> Term:
    """What Webster's method adds to or takes from an exact share."""
    return Term(symbol=symbol, what="rounding", value=value, unit="each", provenance=WHOLE_SHARES)


Formula = tuple[str, tuple[Term, ...]]
