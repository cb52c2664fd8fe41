"""The picture as SVG: one user unit is one millimetre.

Only presentation attributes: a strict content security policy forbids styles and scripts.
"""

from collections.abc import Mapping, Sequence
from typing import Final, Literal

from .backdrops import Drawn, backdrop_drawn, scale_bar
from .elements import Seen, balloon_element
from .paints import Paints
from .picturing import Picture, PlacedBalloon
from .shading import Finish, usable_hex
from .svg_text import mm, plain_id, text
from .wording import described

Units = Literal["metric", "imperial"]

_MM: Final = 1000
_MARGIN_MM: Final = 40.0


def picture_svg(
    shown: Picture,
    *,
    colours: Mapping[str, str],
    names: Mapping[str, str] | None = None,
    finishes: Mapping[str, Finish] | None = None,
    title: str = "Picture of the garland",
    desc: str | None = None,
    units: Units = "metric",
    id_prefix: str = "picture-",
    paper: str | None = None,
    typeface: str = "sans-serif",
) -> str:
    """`colours` and `names` by colour key; a colour with no usable hex is drawn grey.

    `id_prefix` keeps ids apart where a page shows several pictures; `paper` fills the ground and
    `typeface` writes on the scale bar, for a document that may only use its own.
    ValueError: a prefix that no id may begin with.
    """
    paints = Paints(plain_id(id_prefix), colours, finishes or {})
    balloons = [balloon_element(balloon, _seen(balloon), paints) for balloon in shown.balloons]
    backdrop = backdrop_drawn(shown)
    bar = scale_bar(backdrop, units=units, typeface=typeface)
    left, top, right, bottom = _frame([backdrop, bar])
    frame = [left, top, right - left, bottom - top]
    desc = described(shown, names or {}) if desc is None else desc
    return svg(
        frame,
        title=title,
        desc=desc,
        paints=paints,
        content=[*_paper(paper, frame), *backdrop.marks, *balloons, *bar.marks],
    )


def svg(
    frame: Sequence[float], *, title: str, desc: str, paints: Paints, content: Sequence[str]
) -> str:
    """`frame`: left, top, width and height of what is shown."""
    box, prefix = " ".join(map(mm, frame)), paints.prefix
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" role="img" '
            f'aria-labelledby="{prefix}title {prefix}desc">',
            f'<title id="{prefix}title">{text(title)}</title>',
            f'<desc id="{prefix}desc">{text(desc)}</desc>',
            "<defs>",
            *paints.defs,
            "</defs>",
            *content,
            "</svg>",
            "",
        ]
    )


def _seen(balloon: PlacedBalloon) -> Seen:
    return Seen(
        x=balloon.x_m * _MM,
        y=-balloon.y_m * _MM,
        radius=balloon.diameter_m * _MM / 2,
        neck=balloon.neck and _page(balloon.neck),
        tip=balloon.tip and _page(balloon.tip),
    )


def _page(spot: tuple[float, float]) -> tuple[float, float]:
    return spot[0] * _MM, -spot[1] * _MM


def _frame(parts: Sequence[Drawn]) -> tuple[float, float, float, float]:
    return (
        min(part.left for part in parts) - _MARGIN_MM,
        min(part.top for part in parts) - _MARGIN_MM,
        max(part.right for part in parts) + _MARGIN_MM,
        max(part.bottom for part in parts) + _MARGIN_MM,
    )


def _paper(paper: str | None, frame: Sequence[float]) -> list[str]:
    if paper is None:
        return []
    x, y, wide, high = map(mm, frame)
    fill = usable_hex(paper)
    return [f'<rect x="{x}" y="{y}" width="{wide}" height="{high}" fill="{fill}"/>']
