"""One point of a foil starburst: from its neck it widens to a round and runs out to its tip."""

from dataclasses import dataclass
from math import acos, atan2, cos, hypot, pi, sin
from typing import Final

from .shading import Tints
from .svg_text import mm

# The light comes from the upper left; y grows downwards here.
_LIGHT: Final = atan2(-1.0, -0.8)
_OUTLINE: Final = 1 / 30  # of the radius
_Spot = tuple[float, float]


@dataclass(frozen=True)
class FoilPoint:
    """Neck, the middle of its widest round, tip and that round's radius, on the page."""

    neck: _Spot
    middle: _Spot
    tip: _Spot
    radius: float


def foil_paths(point: FoilPoint, tints: Tints) -> str:
    """Its two sides about the axis, as creased foil: one lit, one turned away."""
    axis = atan2(point.tip[1] - point.neck[1], point.tip[0] - point.neck[0])
    outline = f'stroke="{tints.outline}" stroke-width="{mm(point.radius * _OUTLINE)}"'
    paths = []
    for turn in (1, -1):
        is_lit = cos(axis + turn * pi / 2 - _LIGHT) > 0
        fill = tints.near if is_lit else tints.far
        paths.append(f'<path d="{_side(point, turn)}" fill="{fill}" {outline}/>')
    return "".join(paths)


def _side(point: FoilPoint, turn: int) -> str:
    """From the neck round one side of the round to the tip, and straight back."""
    start, end = _leaves(point.neck, point, -turn), _leaves(point.tip, point, turn)
    radius, sweep = mm(point.radius), 0 if turn > 0 else 1
    arc = f"A{radius} {radius} 0 0 {sweep} {_at(end)}"
    return f"M{_at(point.neck)}L{_at(start)}{arc}L{_at(point.tip)}Z"


def _leaves(spot: _Spot, point: FoilPoint, way: int) -> _Spot:
    """Where the tangent from the spot touches the round; from inside it, its own direction."""
    across, down = spot[0] - point.middle[0], spot[1] - point.middle[1]
    distance = hypot(across, down)
    spread = acos(point.radius / distance) if distance > point.radius else 0.0
    angle = atan2(down, across) + way * spread
    return (
        point.middle[0] + point.radius * cos(angle),
        point.middle[1] + point.radius * sin(angle),
    )


def _at(spot: _Spot) -> str:
    return f"{mm(spot[0])} {mm(spot[1])}"
