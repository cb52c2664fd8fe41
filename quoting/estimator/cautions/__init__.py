"""What can go wrong at this site with this piece: few, specific, the gravest first."""

from ..catalogue import Catalogue
from ..rates import Rates
from ..spec import Spec
from ..weather.wind import Wind
from .caution import Caution, Severity
from .making import making_cautions
from .warmth import warmth_cautions
from .windy import wind_cautions

__all__ = ["Caution", "Severity", "find_cautions"]


def find_cautions(
    spec: Spec,
    *,
    wind: Wind,
    length_m: float,
    travels_m3: float,
    cover: float,
    rates: Rates,
    catalogue: Catalogue,
) -> tuple[Caution, ...]:
    found = (
        *wind_cautions(spec, wind=wind, length_m=length_m, rates=rates),
        *warmth_cautions(spec, catalogue),
        *making_cautions(spec, travels_m3=travels_m3, cover=cover, rates=rates),
    )
    return tuple(sorted(found, key=lambda caution: caution.severity))
