"""What shows how large the garland is: a doorway or a person on the same floor, and a scale bar.

Drawn by us, plain and pale, so that the balloons are what one looks at. Millimetres, y down.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from .picturing import Picture
from .svg_text import attribute, mm

_LINE: Final = "#8f8573"
_FILL: Final = "#d9cfbd"
_PALE: Final = "#ece5d8"
# A common inside door, 3 ft by 6 ft 8 in, and someone 1.70 m tall.
_DOOR_WIDE: Final = 914.0
_DOOR_HIGH: Final = 2032.0
_CASING: Final = 80.0
_PERSON_WIDE: Final = 520.0
_PERSON_HIGH: Final = 1700.0
# Room inside an arch for someone to stand there.
_STANDS_INSIDE: Final = 900.0
_FLOOR_BEYOND: Final = 150.0

_FOOT: Final = 304.8
_BARS: Final[Mapping[str, Mapping[str, float]]] = {
    "metric": {"20 cm": 200, "50 cm": 500, "1 m": 1000, "2 m": 2000, "5 m": 5000, "10 m": 10_000},
    "imperial": {f"{feet} ft": feet * _FOOT for feet in (1, 2, 3, 6, 10, 20, 30)},
}
# Of the width of the drawing: readable on a phone, where that is the screen's.
_TEXT_SHARE: Final = 0.032
_BAR_SHARE: Final = 0.3


@dataclass(frozen=True)
class Drawn:
    """Elements, and the box that they and whatever they go with need."""

    marks: tuple[str, ...]
    left: float
    top: float
    right: float
    bottom: float


def backdrop_drawn(shown: Picture) -> Drawn:
    extent = shown.extent
    left, right = extent.left * 1000, extent.right * 1000
    top, bottom = -extent.high * 1000, -extent.low * 1000
    if shown.backdrop is None:
        return Drawn((), left, top, right, bottom)
    floor = -shown.ground_m * 1000
    middle = (left + right) / 2
    if shown.backdrop == "doorway":
        marks, half, high = _door(middle, floor), _DOOR_WIDE / 2 + _CASING, _DOOR_HIGH + _CASING
    else:
        if not _opening(shown):
            middle = right + _PERSON_WIDE / 2 + _FLOOR_BEYOND
        marks, half, high = _person(middle, floor), _PERSON_WIDE / 2, _PERSON_HIGH
    left, right = min(left, middle - half), max(right, middle + half)
    ends = f'x1="{mm(left - _FLOOR_BEYOND)}" x2="{mm(right + _FLOOR_BEYOND)}"'
    ground = f'<line {ends} y1="{mm(floor)}" y2="{mm(floor)}" stroke="{_LINE}" stroke-width="6"/>'
    return Drawn(
        (*marks, ground),
        left - _FLOOR_BEYOND,
        min(top, floor - high),
        right + _FLOOR_BEYOND,
        max(bottom, floor),
    )


def _opening(shown: Picture) -> bool:
    """Whether nothing hangs where a person would stand in the middle."""
    middle = (shown.extent.left + shown.extent.right) / 2
    half, high = _STANDS_INSIDE / 2000, _PERSON_HIGH / 1000
    return not any(
        abs(b.x_m - middle) < half + b.diameter_m / 2
        and b.y_m - b.diameter_m / 2 < shown.ground_m + high
        for b in shown.balloons
    )


def _door(middle: float, floor: float) -> tuple[str, ...]:
    left, top = middle - _DOOR_WIDE / 2, floor - _DOOR_HIGH
    inset, gap = 120.0, 90.0
    panel_wide = (_DOOR_WIDE - 2 * inset - gap) / 2
    rows = ((130.0, 900.0), (1130.0, 760.0))
    panels = [
        _box(left + inset + column * (panel_wide + gap), top + down, panel_wide, high, fill="none")
        for column in (0, 1)
        for down, high in rows
    ]
    casing = _box(
        left - _CASING, top - _CASING, _DOOR_WIDE + 2 * _CASING, _DOOR_HIGH + _CASING, fill="none"
    )
    knob = (
        f'<circle cx="{mm(left + _DOOR_WIDE - 60)}" cy="{mm(floor - 1000)}" r="26" '
        f'fill="none" stroke="{_LINE}" stroke-width="5"/>'
    )
    return (casing, _box(left, top, _DOOR_WIDE, _DOOR_HIGH, fill=_FILL), *panels, knob)


def _box(x: float, y: float, wide: float, high: float, *, fill: str) -> str:
    paint = f'fill="{fill}" fill-opacity=".35"' if fill != "none" else 'fill="none"'
    return (
        f'<rect x="{mm(x)}" y="{mm(y)}" width="{mm(wide)}" height="{mm(high)}" {paint} '
        f'stroke="{_LINE}" stroke-width="5"/>'
    )


def _person(middle: float, floor: float) -> tuple[str, ...]:
    """Someone standing at ease, as one plain outline."""
    head = '<ellipse cx="0" cy="-1592" rx="92" ry="108"/>'
    body = (
        '<path d="M-44 -1500L-46 -1455C-60 -1428 -190 -1420 -214 -1330'
        "C-236 -1240 -236 -1120 -246 -1010L-262 -830C-268 -770 -214 -760 -206 -815"
        "L-178 -1010L-150 -1230C-146 -1130 -156 -1040 -158 -940C-160 -780 -132 -620 -128 -470"
        "L-112 -66L-176 -28Q-186 0 -160 0L-56 0Q-42 0 -42 -22L-30 -470L0 -800"
        "L30 -470L42 -22Q42 0 56 0L160 0Q186 0 176 -28L112 -66"
        "L128 -470C132 -620 160 -780 158 -940C156 -1040 146 -1130 150 -1230"
        "L178 -1010L206 -815C214 -760 268 -770 262 -830L246 -1010"
        'C236 -1120 236 -1240 214 -1330C190 -1420 60 -1428 46 -1455L44 -1500Z"/>'
    )
    paint = f'fill="{_PALE}" stroke="{_LINE}" stroke-width="6"'
    where = f'transform="translate({mm(middle)} {mm(floor)})" stroke-linejoin="round"'
    return (f"<g {where} {paint}>{head}{body}</g>",)


def scale_bar(drawn: Drawn, *, units: Literal["metric", "imperial"], typeface: str) -> Drawn:
    """Under the drawing, at its left: the longest of the usual lengths that takes a third."""
    wide = max(drawn.right - drawn.left, (drawn.bottom - drawn.top) / 2)
    size = wide * _TEXT_SHARE
    label, length = _longest(_BARS[units], wide * _BAR_SHARE)
    x, y, tick = drawn.left, drawn.bottom + size * 1.8, size / 3
    path = f"M{mm(x)} {mm(y - tick)}v{mm(2 * tick)}m0 {mm(-tick)}h{mm(length)}"
    path += f"m0 {mm(-tick)}v{mm(2 * tick)}"
    marks = (
        f'<path d="{path}" fill="none" stroke="currentColor" stroke-width="{mm(size / 10)}"/>',
        f'<text x="{mm(x + length + size / 2)}" y="{mm(y + size * 0.36)}" fill="currentColor" '
        f'font-family={attribute(typeface)} font-size="{mm(size)}">{label}</text>',
    )
    right = x + length + size * (1 + 0.6 * len(label))
    return Drawn(marks, x, drawn.top, max(drawn.right, right), y + size)


def _longest(bars: Mapping[str, float], most: float) -> tuple[str, float]:
    fitting = [bar for bar in bars.items() if bar[1] <= most]
    return fitting[-1] if fitting else next(iter(bars.items()))
