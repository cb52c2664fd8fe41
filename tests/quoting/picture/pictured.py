"""Random specs of every path, and pictures read back from their SVG as a stranger would."""

from collections import Counter
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from random import Random
from typing import Any
from xml.etree import ElementTree

import numpy as np
from numpy.typing import NDArray

from quoting.estimator import Estimate, SpecError, estimate, example_catalogue, spec_from_dict
from quoting.estimator.face_cover import ENOUGH, flat_cover
from quoting.estimator.picture import Picture, picture, picture_svg
from tests.quoting.estimator.garlands import garland

KINDS = ("line", "arch", "posts", "swag", "ring", "drape")
COLOURS = {item.colour: item.hex for item in example_catalogue().items}
SPECS = 78

# Nominal, inflated range and share, with the widths that makers would hang them in.
_MIXES = (
    (((11, (6, 10), 1.0),), (0.3, 1.2)),
    (((11, (6, 10), 0.75), (17, (12, 15), 0.25)), (0.4, 1.2)),
    (((11, (9, 9), 1.0),), (0.35, 1.2)),
    (((11, (5, 7), 1.0),), (0.25, 0.8)),
    (((5, (3.5, 4.5), 1.0),), (0.25, 0.35)),
)


@dataclass(frozen=True)
class Drawn:
    """One element of class `balloon`; millimetres, y downwards."""

    colour: str
    kind: str
    nominal: str
    use: str
    x: float
    y: float
    diameter: float


def random_garland(number: int) -> dict[str, Any]:
    """Paths, backings and clusters take turns, so that every combination comes up."""
    rng = Random(number)
    mix, (narrow, wide) = rng.choice(_MIXES)
    kind = KINDS[number % len(KINDS)]
    # A bend tighter than half the width folds the garland over itself.
    wide = min(wide, 0.8 if kind in ("arch", "posts", "ring") else wide)
    ends, middle = (round(rng.uniform(narrow, wide), 2) for _ in range(2))
    singles = {"per_m": round(rng.uniform(0.1, 0.6), 2), "colours": ["plum"]}
    accents = [{"colour": "marigold", "share": 0.08, "bunch": rng.choice((3, 4, 5))}]
    return garland(
        path=_path(kind, rng),
        width=[[0, ends], [0.5, middle], [1, ends]],
        backing=("free", "flat")[number // 6 % 2],
        cluster_of=(8, 4)[number // 12 % 2],
        sizes=[{"nominal_in": n, "inflated_in": list(r), "share": s} for n, r, s in mix],
        singles=rng.choice((None, None, singles)),
        accents=rng.choice(([], accents)),
        fillers={"minis_per_m2": round(rng.uniform(0.5, 2.5), 2), "colours": ["oat", "fern"]},
        starbursts=rng.choice(([], [{"colour": "copper", "count": rng.randint(1, 3)}])),
        seed=number,
    )


def _path(kind: str, rng: Random) -> dict[str, Any]:
    def metres(low: float, high: float) -> float:
        return round(rng.uniform(low, high), 2)

    match kind:
        case "line":
            return {"kind": kind, "length_m": metres(1.2, 3)}
        case "arch" | "posts":
            return {"kind": kind, "width_m": metres(1.6, 2.4), "height_m": metres(1.1, 1.8)}
        case "swag":
            return {"kind": kind, "span_m": metres(1.2, 3), "sag_m": metres(0.1, 0.8)}
        case "ring":
            return {"kind": kind, "diameter_m": metres(1.2, 1.8)}
    points, x = [], 0.0
    for _ in range(rng.randint(3, 4)):
        points.append([round(x, 2), metres(-0.2, 0.2), metres(0.8, 1.6)])
        x += metres(0.7, 1.1)
    return {"kind": kind, "points_m": points}


@dataclass(frozen=True)
class Pictured:
    estimate: Estimate
    picture: Picture
    svg: str

    @property
    def has_enough(self) -> bool:
        """Within the range in which a silhouette is promised."""
        return flat_cover(self.estimate.balloons, self.estimate.face_area_m2) >= ENOUGH


def pictured(data: dict[str, Any], **options: Any) -> Pictured:
    made = estimate(spec_from_dict(data))
    shown = picture(made, **options)
    return Pictured(made, shown, picture_svg(shown, colours=COLOURS))


@cache
def random_pictures() -> tuple[Pictured, ...]:
    """Without the few in which singles alone fill the garland, which are refused."""
    return tuple(_pictured_unless_refused())


def _pictured_unless_refused() -> Iterator[Pictured]:
    for number in range(SPECS):
        with suppress(SpecError):
            yield pictured(random_garland(number))


def drawn_in(svg: str) -> list[Drawn]:
    return [
        Drawn(
            colour=element.get("data-colour", ""),
            kind=element.get("data-kind", ""),
            nominal=element.get("data-nominal", ""),
            use=element.get("data-use", ""),
            x=float(element.get("data-x", "nan")),
            y=float(element.get("data-y", "nan")),
            diameter=float(element.get("data-diameter", "nan")),
        )
        for element in ElementTree.fromstring(svg).iter()
        if element.get("class") == "balloon"
    ]


def bill(made: Estimate) -> Counter[tuple[str, str, str, str]]:
    """The bill of materials less spares."""
    counts: Counter[tuple[str, str, str, str]] = Counter()
    for line in made.balloons:
        nominal = "" if line.nominal_in is None else f"{line.nominal_in:g}"
        counts[line.colour, line.kind, nominal, line.use] += line.need
    return counts


def overlaps(shown: Picture) -> NDArray[np.float64]:
    """Of every pair of latex balloons that meet, as a share of the smaller one's diameter."""
    latex = [b for b in shown.balloons if b.kind == "latex"]
    middles = np.array([(b.x_m, b.y_m, b.z_m) for b in latex])
    radii = np.array([b.diameter_m / 2 for b in latex])
    apart = np.linalg.norm(middles[:, None] - middles[None], axis=2)
    depth = radii[:, None] + radii[None] - apart
    share = depth / (2 * np.minimum(radii[:, None], radii[None]))
    return share[np.triu(depth > 0, k=1)]
