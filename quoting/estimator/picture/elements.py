"""One balloon, one element of class `balloon`, with what it is in `data-` attributes."""

from dataclasses import dataclass

from .foil import FoilPoint, foil_paths
from .paints import Paints
from .picturing import PlacedBalloon
from .svg_text import attribute, mm

_ROUND_RADIUS = 100


@dataclass(frozen=True)
class Seen:
    """Where a balloon is on the page, in its units, y downwards."""

    x: float
    y: float
    radius: float
    neck: tuple[float, float] | None = None
    tip: tuple[float, float] | None = None


def balloon_element(balloon: PlacedBalloon, seen: Seen, paints: Paints) -> str:
    said = _data(balloon)
    if seen.neck and seen.tip:
        point = FoilPoint(seen.neck, (seen.x, seen.y), seen.tip, seen.radius)
        return f'<g class="balloon" {said}>{foil_paths(point, paints.foil(balloon.colour))}</g>'
    name = paints.round_id(balloon.colour, balloon.shade)
    scale = f"{seen.radius / _ROUND_RADIUS:.3f}".rstrip("0").rstrip(".")
    where = f"translate({mm(seen.x)} {mm(seen.y)})scale({scale})"
    return f'<use class="balloon" href="#{name}" transform="{where}" {said}/>'


def _data(balloon: PlacedBalloon) -> str:
    """Millimetres in the path's plane, y downwards. A foil point's nominal size is empty."""
    nominal = "" if balloon.nominal_in is None else f"{balloon.nominal_in:g}"
    return (
        f"data-colour={attribute(balloon.colour)} data-kind={attribute(balloon.kind)} "
        f'data-nominal="{nominal}" data-use={attribute(balloon.use)} '
        f'data-x="{mm(balloon.x_m * 1000)}" data-y="{mm(-balloon.y_m * 1000)}" '
        f'data-diameter="{mm(balloon.diameter_m * 1000)}"'
    )
