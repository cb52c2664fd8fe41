"""Length, face and envelope."""

from collections.abc import Iterator
from itertools import pairwise
from math import dist

from .. import constants as c
from ..estimating import Estimate
from ..paths import catenary_parameter
from ..spec import Arch, Backing, Drape, Line, Path, Posts, Ring, Swag
from ..widths import face_area, width_squared
from .term import Explanation, Formula, Term, of_constant, of_piece, worked_out

_LEGS_SHOWN = 6


def sizing(est: Estimate) -> Iterator[Explanation]:
    formula, parts = _path(est.spec.path)
    yield Explanation(
        key="path length",
        title="Length of the path",
        formula=formula,
        parts=parts,
        value=est.path_length_m,
        unit="m",
        to_change="Change the shape's measures: hours, balloons and anchors follow its length.",
    )
    length = worked_out("L", "length of the path", est.path_length_m, "m", see="path length")
    yield Explanation(
        key="face area",
        title="Area seen from the front",
        formula="L × W",
        parts=(
            length,
            of_piece("W", "mean width along the path", face_area(1.0, est.spec.width), "m"),
        ),
        value=est.face_area_m2,
        unit="m2",
        to_change="Make it wider or longer: minis and the force of wind go with this area.",
    )
    is_flat = est.spec.backing is Backing.FLAT
    backing = (
        of_constant("k", "against a wall", c.FLAT_BACKING)
        if is_flat
        else of_piece("k", "free-standing, so all round", 1.0, "of the free-standing volume")
    )
    yield Explanation(
        key="envelope",
        title="Room inside its outline",
        formula="k × π / 4 × L × Q",
        parts=(
            backing,
            length,
            of_piece("Q", "mean of the width squared", width_squared(1.0, est.spec.width), "m2"),
        ),
        value=est.envelope_m3,
        unit="m3",
        to_change="Width counts twice: a tenth wider holds about a fifth more balloons.",
    )


def _path(path: Path) -> Formula:
    match path:
        case Line(length_m=length):
            return "L", (of_piece("L", "length", length, "m"),)
        case Arch(width_m=width, height_m=height):
            return _arch(width / 2, height)
        case Posts(width_m=width, height_m=height):
            return "2 × H + W", (
                of_piece("H", "height", height, "m"),
                of_piece("W", "width", width, "m"),
            )
        case Swag(span_m=span, sag_m=sag):
            u = catenary_parameter(span, sag)
            return "S × sinh(u) / u", (
                of_piece("S", "span", span, "m"),
                worked_out("u", f"a hanging chain's steepness at {sag:g} m of sag", u, "of 1"),
            )
        case Ring(diameter_m=across):
            return "π × D", (of_piece("D", "diameter", across, "m"),)
        case Drape(points_m=points):
            return _drape([dist(p, q) for p, q in pairwise(points)])
    raise TypeError(f"not a path: {path!r}")


def _arch(a: float, b: float) -> Formula:
    h = 3 * ((a - b) / (a + b)) ** 2
    flat = Term(
        symbol="h",
        what="3 ((a − b) / (a + b))²",
        value=h,
        unit="of 1",
        provenance="Ramanujan's second approximation of an ellipse, within 2e-5",
    )
    return "π / 2 × (a + b) × (1 + h / (10 + √(4 − h)))", (
        of_piece("a", "half the width", a, "m"),
        of_piece("b", "height", b, "m"),
        flat,
    )


def _drape(legs: list[float]) -> Formula:
    if len(legs) > _LEGS_SHOWN:
        return "S", (of_piece("S", f"{len(legs)} straight legs together", sum(legs), "m"),)
    terms = tuple(
        of_piece(f"s{i}", f"leg {i}, from point to point", leg, "m")
        for i, leg in enumerate(legs, start=1)
    )
    return " + ".join(term.symbol for term in terms), terms
