"""How long a path is, in metres."""

from functools import singledispatch
from math import dist, pi, sinh, sqrt

from .spec import Arch, Drape, Line, Path, Posts, Ring, Swag

# sinh stays finite, and the deepest swag that is accepted lies far below.
_STEEPEST_SWAG = 20.0
_NEWTON_STEPS = 60


@singledispatch
def path_length(path: Path) -> float:
    raise TypeError(f"not a path: {path!r}")


@path_length.register
def _(path: Line) -> float:
    return path.length_m


@path_length.register
def _(path: Arch) -> float:
    return half_ellipse_length(path.width_m / 2, path.height_m)


@path_length.register
def _(path: Posts) -> float:
    return 2 * path.height_m + path.width_m


@path_length.register
def _(path: Swag) -> float:
    return catenary_length(path.span_m, path.sag_m)


@path_length.register
def _(path: Ring) -> float:
    return pi * path.diameter_m


@path_length.register
def _(path: Drape) -> float:
    return sum(map(dist, path.points_m, path.points_m[1:]))


def half_ellipse_length(a: float, b: float) -> float:
    """Ramanujan's second approximation: within 2e-5 while the axes differ by up to ten times."""
    flatness = 3 * ((a - b) / (a + b)) ** 2
    return pi / 2 * (a + b) * (1 + flatness / (10 + sqrt(4 - flatness)))


def catenary_length(span: float, sag: float) -> float:
    """A hanging chain's length: span sinh(u) / u."""
    u = catenary_parameter(span, sag)
    return span * sinh(u) / u


def catenary_parameter(span: float, sag: float) -> float:
    """u = span / (2 a) of the chain y = a cosh(x / a).

    sag / span = (cosh u - 1) / (2 u) is solved for u by Newton's method from above,
    where the curve is convex so that it cannot overshoot.
    """
    wanted = 2 * sag / span
    u = min(2 * wanted, _STEEPEST_SWAG)
    for _ in range(_NEWTON_STEPS):
        rise = 2 * sinh(u / 2) ** 2 / u
        step = (rise - wanted) / ((sinh(u) - rise) / u)
        u -= step
        if abs(step) <= 1e-15 * u:
            break
    return u


def path_top(path: Path) -> float:
    """The highest point above the ground that the path itself tells of."""
    match path:
        case Arch() | Posts():
            return path.height_m
        case Ring():
            return path.diameter_m
        case Drape():
            return max(z for _, _, z in path.points_m)
        case _:
            return 0.0


def is_closed(path: Path) -> bool:
    return isinstance(path, Ring)
