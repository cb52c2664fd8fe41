"""Too much wind for the piece, for its ties, or for the one who hangs it."""

from collections.abc import Iterator

from .. import constants as c
from ..rates import Rates
from ..saying import Measure, Quantity
from ..spec import Spec
from ..sundries import anchors_by_spacing
from ..weather.beaufort import beaufort
from ..weather.wind import Wind, anchors_for
from .caution import Caution, Severity

_RIGGER = "ask a licensed rigger and follow your local codes"


def wind_cautions(spec: Spec, *, wind: Wind, length_m: float, rates: Rates) -> Iterator[Caution]:
    """At most one: a gust over the limit says everything that weak ties would."""
    gust = spec.site.gust_mps
    needed = anchors_for(wind.force_n, rates.tie_strength_n)
    numbers = {
        "gust": Quantity(gust, Measure.SPEED),
        "limit": Quantity(rates.wind_limit_mps, Measure.SPEED),
        "force": Quantity(wind.force_n, Measure.FORCE),
        "each": Quantity(wind.force_per_anchor_n, Measure.FORCE),
        "tie": Quantity(rates.tie_strength_n, Measure.FORCE),
        "needed": Quantity(needed, Measure.COUNT),
        "anchors": Quantity(wind.anchors, Measure.COUNT),
        "spaced": Quantity(anchors_by_spacing(spec, length_m), Measure.COUNT),
        "closest": Quantity(c.ANCHOR_CLOSEST_M.value, Measure.LENGTH),
    }
    name = beaufort(gust).name
    if gust > rates.wind_limit_mps:
        yield Caution(
            Severity.STOP,
            "wind limit",
            f"Gust {{gust}} ({name}): {{force}} on this piece, {{needed}} anchors at your {{tie}} "
            "ties; your own limit is {limit}",
            f"do not install; move it indoors or to another hour, or {_RIGGER}",
            numbers,
        )
    elif needed > wind.anchors:
        yield Caution(
            Severity.STOP,
            "weak ties",
            f"Gust {{gust}} ({name}): {{force}} on this piece, {{needed}} anchors at your {{tie}} "
            "ties, which is closer than one every {closest}",
            f"use ties that hold {{each}} each at {{anchors}} anchors, or {_RIGGER}",
            numbers,
        )
    elif needed > numbers["spaced"].value:
        yield Caution(
            Severity.CARE,
            "more anchors",
            f"Gust {{gust}} ({name}): {{force}} on this piece, more than {{spaced}} of your "
            "{tie} ties hold",
            "tie it at {anchors} anchors, {each} on each, from every side",
            numbers,
        )
