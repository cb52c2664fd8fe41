"""The picture laid over a photo of the place, in the photo's perspective.

Every balloon is mapped from the path's plane. It is drawn round: a ball is not foreshortened
as a flat disc in the plane is, so it takes that disc's longest radius. Depth out of the plane
is kept as the order of drawing only.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Final

import numpy as np

from .course import Floats
from .drawing import svg
from .elements import Seen, balloon_element
from .paints import Paints
from .picturing import Picture
from .shading import Finish
from .svg_text import attribute, plain_id
from .wording import described

ToPixels = Callable[[Floats], Floats | Sequence[tuple[float, float]]]
_STEP_M: Final = 0.001


def svg_over_photo(
    shown: Picture,
    to_pixels: ToPixels,
    *,
    size_px: tuple[int, int],
    colours: Mapping[str, str],
    names: Mapping[str, str] | None = None,
    finishes: Mapping[str, Finish] | None = None,
    title: str = "The garland in its place",
    photo_href: str | None = None,
    id_prefix: str = "over-photo-",
) -> str:
    """`to_pixels` takes (n, 2) metres, x right and y up, to pixels, y down from the top.

    User units are pixels of the photo; the `data-` attributes stay true millimetres. Where
    no `photo_href` is given, the drawing is to be laid over the photo by the page.
    """
    paints = Paints(plain_id(id_prefix), colours, finishes or {})
    seen = _seen(shown, to_pixels)
    pairs = zip(shown.balloons, seen, strict=True)
    wide, high = size_px
    photo = (
        []
        if photo_href is None
        else [f'<image href={attribute(photo_href)} width="{wide}" height="{high}"/>']
    )
    return svg(
        (0, 0, wide, high),
        title=title,
        desc=described(shown, names or {}),
        paints=paints,
        content=[*photo, *(balloon_element(balloon, place, paints) for balloon, place in pairs)],
    )


def _seen(shown: Picture, to_pixels: ToPixels) -> list[Seen]:
    middles = np.array([(b.x_m, b.y_m) for b in shown.balloons])
    pixels = np.asarray(to_pixels(middles))
    pairs = zip(shown.balloons, pixels, _pixels_per_metre(middles, to_pixels), strict=True)
    return [
        Seen(
            x=float(pixel[0]),
            y=float(pixel[1]),
            radius=float(scale) * balloon.diameter_m / 2,
            neck=balloon.neck and _one(to_pixels, balloon.neck),
            tip=balloon.tip and _one(to_pixels, balloon.tip),
        )
        for balloon, pixel, scale in pairs
    ]


def _pixels_per_metre(middles: Floats, to_pixels: ToPixels) -> Floats:
    """In the direction that is stretched most, by the mapping's slope at each point."""
    slopes = [
        (np.asarray(to_pixels(middles + step)) - np.asarray(to_pixels(middles - step)))
        / (2 * _STEP_M)
        for step in np.eye(2) * _STEP_M
    ]
    return np.linalg.svd(np.stack(slopes, axis=2), compute_uv=False)[:, 0]


def _one(to_pixels: ToPixels, spot: tuple[float, float]) -> tuple[float, float]:
    x, y = np.asarray(to_pixels(np.array([spot])))[0]
    return float(x), float(y)
