"""An invented photo: an allotment's tool shed with a door, and an arbour flat against its wall.

It is drawn from a camera of our own, so that what is marked on it has a known truth: the door is
3 ft by 6 ft 8 in, the arbour 5 ft wide.
"""

import io
from collections.abc import Sequence
from random import Random
from typing import Final

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from decor.display import METRES_PER_FOOT
from decor.pictures import Picture

Point = tuple[float, float]
Colour = tuple[int, int, int]

PHOTO_PX: Final = (1600, 1200)
DOOR_FT: Final = (3.0, 6 + 8 / 12)
# Across and up from the door's lower left corner: up the arbour's post, over it, down the other.
PATH_FT: Final = ((4.3, 0.6), (4.3, 4.2), (4.5, 7.0), (6.8, 7.9), (9.1, 7.0), (9.3, 3.6))

_FINER: Final = 2  # drawn larger and shrunk, for soft edges
_FOCAL_PX: Final = 1500.0
_AIM_FT: Final = (5.0, 4.4)
_AWAY_FT: Final = 17.0
_YAW: Final = np.radians(-24)
_PITCH: Final = np.radians(4)
_SEED: Final = 11

_SKY: Final[tuple[Colour, Colour]] = ((150, 183, 208), (221, 229, 226))
_GRASS: Final[tuple[Colour, Colour]] = ((104, 124, 78), (126, 146, 88))
_BOARD: Final[Colour] = (123, 139, 136)
_DOOR: Final[Colour] = (74, 92, 102)
_FRAME: Final[Colour] = (214, 208, 194)
_WOOD: Final[Colour] = (139, 105, 74)
_LEAVES: Final[Sequence[Colour]] = ((84, 112, 66), (101, 130, 74), (68, 95, 60))


def seen_at(across_ft: float, up_ft: float, out_ft: float = 0.0) -> Point:
    """Pixels of a point of the wall, or of one that stands out from it."""
    x, down, ahead = _turned() @ np.array([across_ft - _AIM_FT[0], _AIM_FT[1] - up_ft, -out_ft])
    scale = _FOCAL_PX / (ahead + _AWAY_FT)
    return (PHOTO_PX[0] / 2 + float(x * scale), PHOTO_PX[1] / 2 + float(down * scale))


def door_corners() -> tuple[Point, ...]:
    width, height = DOOR_FT
    return tuple(seen_at(*at) for at in ((0, height), (width, height), (width, 0), (0, 0)))


def path_taps() -> tuple[Point, ...]:
    return tuple(seen_at(*at) for at in PATH_FT)


def arbour_marks() -> dict[str, str]:
    """What the owner taps and types on it, to the nearest pixel."""
    typed = {"known": "rectangle", "width": "3 ft", "height": "6 ft 8 in"}
    for what, points in (("corner", door_corners()), ("tap", path_taps())):
        for row, (x, y) in enumerate(points, start=1):
            typed |= {f"{what}_{row}_x": f"{x:.0f}", f"{what}_{row}_y": f"{y:.0f}"}
    return typed


def true_length_m() -> float:
    steps = np.diff(np.array(PATH_FT), axis=0)
    return float(np.linalg.norm(steps, axis=1).sum()) * METRES_PER_FOOT


def arbour_photo() -> Picture:
    """The same every time."""
    random = Random(_SEED)
    image = Image.new("RGB", (PHOTO_PX[0] * _FINER, PHOTO_PX[1] * _FINER))
    draw = ImageDraw.Draw(image)
    _sky_and_grass(draw)
    _shed(draw, random)
    _door(draw)
    _shade_of_arbour(image)
    _arbour(ImageDraw.Draw(image), random)
    image = image.resize(PHOTO_PX, Image.Resampling.LANCZOS)
    out = io.BytesIO()
    _grained(image).save(out, format="JPEG", quality=86)
    return Picture(data=out.getvalue(), suffix=".jpg", width_px=PHOTO_PX[0], height_px=PHOTO_PX[1])


def _turned() -> np.ndarray:
    yaw = np.array([[np.cos(_YAW), 0, np.sin(_YAW)], [0, 1, 0], [-np.sin(_YAW), 0, np.cos(_YAW)]])
    pitch = np.array(
        [[1, 0, 0], [0, np.cos(_PITCH), -np.sin(_PITCH)], [0, np.sin(_PITCH), np.cos(_PITCH)]]
    )
    return pitch @ yaw


def _fine(points: Sequence[Point]) -> list[Point]:
    return [(x * _FINER, y * _FINER) for x, y in points]


def _board(
    draw: ImageDraw.ImageDraw,
    box_ft: tuple[float, float, float, float],
    fill: Colour,
    *,
    out_ft: float = 0.0,
) -> None:
    """A flat board on the wall: left, low, right and top in feet."""
    left, low, right, top = box_ft
    corners = ((left, low), (right, low), (right, top), (left, top))
    draw.polygon(_fine([seen_at(x, up, out_ft) for x, up in corners]), fill=fill)


def _sky_and_grass(draw: ImageDraw.ImageDraw) -> None:
    width, height = (side * _FINER for side in PHOTO_PX)
    for y in range(height):
        colours, share = (_SKY, y / height) if y < height * 0.55 else (_GRASS, y / height)
        draw.line([(0, y), (width, y)], fill=_between(*colours, share))


def _shed(draw: ImageDraw.ImageDraw, random: Random) -> None:
    low, top, boards = -0.3, 9.9, 19
    step = (top - low) / boards
    for at in range(boards):
        up = low + at * step
        shade = random.uniform(0.93, 1.07)
        _board(draw, (-3.4, up, 12.6, up + step), _lit(_BOARD, shade))
        _board(draw, (-3.4, up, 12.6, up + 0.05), _lit(_BOARD, 0.72))
    _board(draw, (-4.0, top - 0.35, 13.2, top + 0.4), (86, 74, 66), out_ft=0.6)
    _board(draw, (-3.4, low - 0.25, 12.6, low), (96, 92, 84))


def _door(draw: ImageDraw.ImageDraw) -> None:
    width, height = DOOR_FT
    _board(draw, (-0.35, 0, width + 0.35, height + 0.35), _FRAME)
    _board(draw, (0, 0, width, height), _DOOR)
    for plank in range(1, 6):
        _board(draw, (plank * 0.5 - 0.03, 0, plank * 0.5, height), _lit(_DOOR, 0.75))
    for up in (0.7, 3.1, 5.6):
        _board(draw, (0.12, up, width - 0.12, up + 0.42), _lit(_DOOR, 1.14))
    x, y = _fine([seen_at(width - 0.3, 3.0)])[0]
    draw.ellipse([x - 14, y - 14, x + 14, y + 14], fill=(202, 176, 110))
    _board(draw, (-0.5, -0.3, width + 0.5, 0), (150, 144, 132), out_ft=0.5)


def _shade_of_arbour(image: Image.Image) -> None:
    shade = Image.new("L", image.size, 0)
    draw = ImageDraw.Draw(shade)
    for left, low, right, top in _arbour_parts():
        corners = ((left, low), (right, low), (right, top), (left, top))
        draw.polygon(_fine([seen_at(x + 0.35, up - 0.25) for x, up in corners]), fill=110)
    shade = shade.filter(ImageFilter.GaussianBlur(12))
    image.paste(Image.new("RGB", image.size, (24, 30, 36)), mask=shade)


def _arbour_parts() -> tuple[tuple[float, float, float, float], ...]:
    posts = ((4.15, -0.3, 4.5, 7.1), (9.1, -0.3, 9.45, 7.1))
    return (*posts, (3.7, 6.85, 9.9, 7.2))


def _arbour(draw: ImageDraw.ImageDraw, random: Random) -> None:
    for part in _arbour_parts():
        _board(draw, part, _lit(_WOOD, random.uniform(0.92, 1.08)))
    for x in np.arange(4.0, 9.8, 0.55):
        _board(draw, (x, 7.2, x + 0.16, 7.75), _lit(_WOOD, 0.88))
    for _ in range(240):
        across = random.choice((4.3, 9.28)) + random.gauss(0, 0.22)
        _leaf(draw, (across, random.uniform(-0.2, 1.9)), random)
    for _ in range(300):
        across = random.uniform(-3.2, 12.5)
        if not -0.5 < across < DOOR_FT[0] + 0.5:
            _leaf(draw, (across, random.gauss(-0.25, 0.13)), random)


def _leaf(draw: ImageDraw.ImageDraw, at_ft: Point, random: Random) -> None:
    x, y = _fine([seen_at(*at_ft)])[0]
    size = random.uniform(8, 22)
    fill = _lit(random.choice(_LEAVES), random.uniform(0.85, 1.2))
    draw.ellipse([x - size, y - size * 0.7, x + size, y + size * 0.7], fill=fill)


def _grained(image: Image.Image) -> Image.Image:
    """A little sensor noise: nothing photographed is quite smooth."""
    noise = np.random.default_rng(_SEED).normal(0, 4.0, (*reversed(PHOTO_PX), 1))
    return Image.fromarray(np.clip(np.asarray(image) + noise, 0, 255).astype(np.uint8))


def _between(one: Colour, other: Colour, share: float) -> Colour:
    return tuple(round(a + (b - a) * share) for a, b in zip(one, other, strict=True))


def _lit(colour: Colour, by: float) -> Colour:
    return tuple(min(255, round(part * by)) for part in colour)
