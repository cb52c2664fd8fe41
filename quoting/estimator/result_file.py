"""The result of an estimate as JSON, version 1."""

from typing import Any

from .estimating import Estimate
from .pricing import Price
from .recipe import Recipe
from .wording import amount


def estimate_to_dict(est: Estimate) -> dict[str, Any]:
    return {
        "version": 1,
        "path_length_m": est.path_length_m,
        "face_area_m2": est.face_area_m2,
        "envelope_m3": est.envelope_m3,
        "count": {"body": est.count.body, "low": est.count.low, "high": est.count.high},
        "balloons": [_balloon(line) for line in est.balloons],
        "make": _make(est.make),
        "string": [dict(vars(item)) for item in est.string],
        "sundries": [dict(vars(line)) for line in est.sundries],
        "air_m3": est.air_m3,
        "packed_m3": est.packed_m3,
        "labour": [{"phase": line.phase, "person_hours": line.person_hours} for line in est.labour],
        "person_hours": est.person_hours,
        "elapsed_hours": est.elapsed_hours,
        "wind": dict(vars(est.wind)),
        "cautions": [caution.text for caution in est.cautions],
        "price": _price(est.price),
    }


def _balloon(line: Any) -> dict[str, Any]:
    names = ("colour", "kind", "nominal_in", "use", "need", "spare", "total")
    return {name: _plain_number(getattr(line, name)) for name in names}


def _plain_number(value: Any) -> Any:
    """11 and not 11.0, as the trade writes sizes."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _make(recipe: Recipe) -> dict[str, Any]:
    return {
        "pairs": dict(recipe.pairs),
        "clusters": [
            {"colour": line.colour, "count": line.count} for line in recipe.clusters if line.count
        ],
        "accent_bunches": recipe.accent_bunches,
        "minis": recipe.minis,
        "starbursts": recipe.starbursts,
        "singles": recipe.singles,
    }


def _price(price: Price) -> dict[str, Any]:
    return {
        "currency": price.currency,
        "cost": amount(price.cost_cents),
        "net": amount(price.net_cents),
        "tax": amount(price.tax_cents),
        "total": amount(price.total_cents),
        "lines": [
            {"label": line.label, "amount": amount(line.amount_cents), "why": line.why}
            for line in price.lines
        ],
    }
