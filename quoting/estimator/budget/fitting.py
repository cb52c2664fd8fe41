"""The fullest version of a piece that a budget pays for.

Counts, hours and so the price never fall while a width or a length grows (Webster's
method, whole clusters and bags all go one way), so whole steps of the scale are bisected:
the answer is the same as trying every step.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, floor
from typing import Final

from ..catalogue import Catalogue
from ..comparing import Row, differences
from ..estimating import Estimate, estimate
from ..orders import Discount, ExtraLine, OrderConditions
from ..pricing import Price, price_order
from ..problems import BadInput, Problem, SpecError
from ..rates import Rates
from ..saying import UnitSystem
from ..spec import Spec
from ..wording import amount
from .scaling import By, scale_limits, scaled

# So fine that a step moves a price of 5000 by about its rounding to a whole unit.
STEP: Final = 0.0001
_FUZZ: Final = 1e-9
_SAID_OF_MANY: Final = ("length", "widest", "narrowest", "balloons", "clusters", "person_hours")


class BudgetTooSmall(BadInput):
    """Even the smallest version costs more; `smallest_cents` is its total with tax."""

    def __init__(self, smallest_cents: int, budget_cents: int, by: By) -> None:
        self.smallest_cents = smallest_cents
        message = (
            f"{amount(budget_cents)} is below the smallest possible price: changing only its "
            f"{by}, this piece costs at least {amount(smallest_cents)} with tax"
        )
        super().__init__([Problem("budget", message)])


@dataclass(frozen=True, kw_only=True)
class Fit:
    """`price` is of the whole order; `asked` is the piece before it was fitted, if it could be."""

    by: By
    scale: float
    spec: Spec
    made: Estimate
    asked: Estimate | None
    price: Price
    budget_cents: int

    @property
    def left_cents(self) -> int:
        return self.budget_cents - self.price.total_cents

    @property
    def changes(self) -> tuple[Row, ...]:
        """What is not as it was asked for, the piece as asked standing first in each."""
        return tuple(differences([self.asked, self.made])) if self.asked else ()

    def said(self, *, units: str = UnitSystem.METRIC, money: Callable[[int], str] = amount) -> str:
        total = f"the total with tax is {money(self.price.total_cents)}"
        within = f"{total}, {money(self.left_cents)} within the budget"
        changed = [row for row in self.changes if row.key in _SAID_OF_MANY]
        if not changed:
            return f"Nothing had to change: {within}."
        what = "; ".join(row.said(1, units=units, money=money) for row in changed)
        return f"Its {self.by} is {100 * self.scale:.1f} % of what was asked: {what}; {within}."


def fit_budget(
    spec: Spec,
    total_cents: int,
    *,
    by: By = "width",
    catalogue: Catalogue | None = None,
    rates: Rates | None = None,
    conditions: OrderConditions | None = None,
    others: Sequence[Estimate] = (),
    extra_lines: Sequence[ExtraLine] = (),
    discount: Discount | None = None,
    step: float = STEP,
) -> Fit:
    """The largest whole step of the scale whose total does not exceed the budget.

    `others` are the order's other pieces, kept as they are. Raises BudgetTooSmall with
    the smallest possible price, or SpecError where no size of the piece can be made.
    """

    def try_at(steps: int) -> _Tried:
        return _try(scaled(spec, by, steps * step))

    def _try(version: Spec) -> _Tried:
        made = estimate(version, catalogue=catalogue, rates=rates, conditions=conditions)
        price = price_order(
            [*others, made],
            rates=made.rates,
            conditions=conditions if others and conditions else made.conditions,
            extra_lines=extra_lines,
            discount=discount,
        )
        return _Tried(made=made, price=price)

    low, high = scale_limits(spec, by)
    least, most = ceil(low / step - _FUZZ), floor(high / step + _FUZZ)
    smallest = _smallest(try_at, least, most)
    found = try_at(smallest)
    if found.price.total_cents > total_cents:
        raise BudgetTooSmall(found.price.total_cents, total_cents, by)

    def affordable(steps: int) -> bool:
        tried = _or_none(try_at, steps)
        return tried is not None and tried.price.total_cents <= total_cents

    steps = _last(affordable, smallest, most)
    found = try_at(steps)
    asked = _or_none(lambda _: _try(spec), 0)
    return Fit(
        by=by,
        scale=steps * step,
        spec=found.made.spec,
        made=found.made,
        asked=asked.made if asked else None,
        price=found.price,
        budget_cents=total_cents,
    )


@dataclass(frozen=True)
class _Tried:
    made: Estimate
    price: Price


def _or_none(try_at: Callable[[int], _Tried], steps: int) -> _Tried | None:
    try:
        return try_at(steps)
    except SpecError:
        return None


def _smallest(try_at: Callable[[int], _Tried], least: int, most: int) -> int:
    """The first step at which the base has room beside accents and singles.

    Raises the SpecError of the largest size where there is none, or of a colour that the
    catalogue has not.
    """
    if _or_none(try_at, least):
        return least

    def overfull(steps: int) -> bool:
        try:
            try_at(steps)
        except SpecError as error:
            # Too many balloons: so large that there is room, and more.
            return all(problem.key != "path" for problem in error.problems)
        return False

    if overfull(most):
        try_at(most)
    return _last(overfull, least, most) + 1


def _last(holds: Callable[[int], bool], first: int, last: int) -> int:
    """The last step for which `holds`, given that it holds at `first` and then until it fails."""
    while first < last:
        middle = (first + last + 1) // 2
        if holds(middle):
            first = middle
        else:
            last = middle - 1
    return first
