"""What a result file holds besides the estimate when it is asked for: range, fit, explanations."""

from typing import Any, Final

from .budget import Fit
from .explain import Explanation
from .ranges import HonestRange, Spread
from .spec_file import spec_to_dict
from .wording import amount

_EFFECTS_SHOWN: Final = 3


def range_to_dict(found: HonestRange) -> dict[str, Any]:
    return {
        "method": found.method,
        "body": _spread(found.body),
        "balloons": _spread(found.balloons),
        "person_hours": _spread(found.person_hours),
        "elapsed_hours": _spread(found.elapsed_hours),
        "cost": {name: amount(round(cents)) for name, cents in _spread(found.cost_cents).items()},
        "margin_bp": _spread(found.margin_bp),
        "minimum_margin_bp": found.minimum_margin_bp,
        "chance_below_minimum_margin": found.least_margin_chance,
        "matters_most": [effect.said() for effect in found.effects[:_EFFECTS_SHOWN]],
    }


def _spread(spread: Spread) -> dict[str, float]:
    return dict(vars(spread))


def fit_to_dict(fit: Fit) -> dict[str, Any]:
    return {
        "by": fit.by,
        "scale": fit.scale,
        "budget": amount(fit.budget_cents),
        "total": amount(fit.price.total_cents),
        "left": amount(fit.left_cents),
        "said": fit.said(),
        "spec": spec_to_dict(fit.spec),
    }


def explanation_to_dict(found: Explanation) -> dict[str, Any]:
    return {
        "key": found.key,
        "title": found.title,
        "formula": found.formula,
        "with_numbers": found.with_numbers,
        "value": found.value,
        "unit": found.unit,
        "parts": [dict(vars(part)) for part in found.parts],
        "to_change": found.to_change,
    }
