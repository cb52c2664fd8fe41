"""The picture of a piece for a document: drawn to scale, and over the client's photo.

Made from frozen inputs alone: the same spec with its seed gives the same picture.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from decor.display import length_text
from decor.documents.pdf import DRAWING_TYPEFACE
from quoting.estimator import Catalogue, Estimate, Rates, Spec, estimate
from quoting.estimator.picture import Picture, PictureError, svg_over_photo
from quoting.estimator.spec import Arch, Posts
from quoting.estimator.tracing import TraceError
from quoting.pictures.drawing import FIRST_FIGURE, estimate_svg, picture_of
from quoting.traces.paths import plane_of

# What a machine reads of each balloon: of no use on paper, and a third of what is to be parsed.
_DATA = re.compile(r" data-colour=[^<>]*?(?=/?>)")
_BOX = re.compile(r'viewBox="(\S+) (\S+) (\S+) (\S+)"')
# Typesetting takes some seconds for so many, and nobody could tell them apart.
MOST_ON_PAPER = 2000
# Millimetres on paper: above and to the right of the picture, for its two measures.
_MARK_ABOVE, _MARK_BESIDE = 6.5, 19.0


@dataclass(frozen=True)
class Box:
    """Millimetres on paper that a drawing may take."""

    width: float
    height: float


@dataclass(frozen=True)
class Mark:
    """A measure: its line as SVG path data, and its words with where they stand."""

    line: str
    text: str
    text_x: float
    text_y: float


@dataclass(frozen=True)
class Drawing:
    """Millimetres on paper. `inner` is an SVG of its own, placed in this frame."""

    alt: str
    width: float
    height: float
    inner: SafeString
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Seen:
    """A piece as its settled balloons. Sizes are from balloon edge to balloon edge."""

    spec: Spec
    made: Estimate
    catalogue: Catalogue
    shown: Picture
    figure: str

    @property
    def width_m(self) -> float:
        return self.shown.extent.width_m

    @property
    def base_m(self) -> float:
        """What stands is as high as its top is above the floor."""
        stands = isinstance(self.spec.path, Arch | Posts)
        return self.shown.ground_m if stands else self.shown.extent.low

    @property
    def height_m(self) -> float:
        return self.shown.extent.high - self.base_m


def seen_of(
    spec: Spec, *, catalogue: Catalogue, rates: Rates, figure: str = FIRST_FIGURE
) -> Seen | None:
    """None where it has more balloons than one would draw. `figure` shows how large it is."""
    made = estimate(spec, catalogue=catalogue, rates=rates)
    if sum(line.need for line in made.balloons) > MOST_ON_PAPER:
        return None
    try:
        shown = picture_of(made)
    except PictureError:
        return None
    return Seen(spec=spec, made=made, catalogue=catalogue, shown=shown, figure=figure)


@dataclass(frozen=True)
class _Sheet:
    """The picture's SVG and where it lies, in millimetres of the real thing."""

    svg: str
    left: float
    top: float
    width: float
    height: float


def drawings_of(
    pieces: Iterable[tuple[Seen, str]], *, box: Box, units: str, id_prefix: str, marked: bool = True
) -> list[Drawing]:
    """Each with its words for those who do not see it; all to one scale, to be compared."""
    pieces = list(pieces)
    room = Box(box.width - _MARK_BESIDE, box.height - _MARK_ABOVE) if marked else box
    sheets = [
        _sheet(seen, alt, units=units, id_prefix=f"{id_prefix}{number}-")
        for number, (seen, alt) in enumerate(pieces)
    ]
    scale = min(min(room.width / sheet.width, room.height / sheet.height) for sheet in sheets)
    return [
        _drawing(sheet, seen, alt, scale=scale, units=units, marked=marked)
        for sheet, (seen, alt) in zip(sheets, pieces, strict=True)
    ]


def photo_of(
    seen: Seen,
    traced: Mapping[str, Any],
    *,
    box: Box,
    alt: str,
    id_prefix: str,
    photo_url: str,
) -> Drawing | None:
    """None where a part of the garland would be behind the camera."""
    wide, high = traced["photo_px"]
    items = seen.catalogue.items
    try:
        plane = plane_of(
            known=traced["known"],
            known_m=traced["known_m"],
            marks_px=traced["marks_px"],
            photo_px=(wide, high),
        )
        drawn = svg_over_photo(
            seen.shown,
            plane.to_pixels,
            size_px=(wide, high),
            colours={item.colour: item.hex for item in items},
            title=alt,
            photo_href=photo_url,
            id_prefix=id_prefix,
        )
    except (TraceError, PictureError):
        return None
    scale = min(box.width / wide, box.height / high)
    width, height = round(wide * scale, 2), round(high * scale, 2)
    return Drawing(alt, width, height, _placed(drawn, 0, 0, width, height))


def _sheet(seen: Seen, alt: str, *, units: str, id_prefix: str) -> _Sheet:
    svg = estimate_svg(
        seen.made,
        catalogue=seen.catalogue,
        units=units,
        title=alt,
        words=alt,
        figure=seen.figure,
        id_prefix=id_prefix,
        typeface=DRAWING_TYPEFACE,
    )
    return _Sheet(svg, *map(float, _BOX.search(svg).groups()))


def _drawing(
    sheet: _Sheet, seen: Seen, alt: str, *, scale: float, units: str, marked: bool
) -> Drawing:
    wide, high = sheet.width * scale, sheet.height * scale
    above, beside = (_MARK_ABOVE, _MARK_BESIDE) if marked else (0.0, 0.0)
    return Drawing(
        alt=alt,
        width=round(wide + beside, 2),
        height=round(high + above, 2),
        inner=_placed(sheet.svg, 0, above, wide, high),
        marks=_marks(sheet, seen, scale, units) if marked else (),
    )


def _marks(sheet: _Sheet, seen: Seen, scale: float, units: str) -> tuple[Mark, Mark]:
    extent = seen.shown.extent
    left, right = ((x * 1000 - sheet.left) * scale for x in (extent.left, extent.right))
    top, base = ((-y * 1000 - sheet.top) * scale + _MARK_ABOVE for y in (extent.high, seen.base_m))
    return (
        _across(left, right, top - 2.5, length_text(seen.width_m, units)),
        _upright(top, base, right + 3.0, length_text(seen.height_m, units)),
    )


def _across(left: float, right: float, y: float, text: str) -> Mark:
    line = f"M{left:.2f} {y - 0.8:.2f}v1.6M{left:.2f} {y:.2f}H{right:.2f}m0 -0.8v1.6"
    return Mark(line, text, round((left + right) / 2, 2), round(y - 1.4, 2))


def _upright(top: float, base: float, x: float, text: str) -> Mark:
    line = f"M{x - 0.8:.2f} {top:.2f}h1.6M{x:.2f} {top:.2f}V{base:.2f}m-0.8 0h1.6"
    return Mark(line, text, round(x + 1.6, 2), round((top + base) / 2 + 1, 2))


def _placed(svg: str, x: float, y: float, width: float, height: float) -> SafeString:
    where = f'x="{x:.2f}" y="{y:.2f}" width="{width:.2f}" height="{height:.2f}"'
    # Every text in it is escaped where it is written.
    return mark_safe(_DATA.sub("", svg).replace("<svg ", f"<svg {where} ", 1))
