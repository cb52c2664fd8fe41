"""How many balloons fill the envelope."""

from dataclasses import dataclass
from math import pi

from . import constants as c
from .problems import Problem, SpecError
from .spec import Backing, Spec
from .widths import width_squared

# A whole number that floats missed by this much is still that whole number.
_FUZZ = 1e-9


@dataclass(frozen=True)
class Body:
    """Counts before they are rounded to what is made: base, and each accent."""

    base: float
    accents: tuple[float, ...]


def balloon_volume(inflated_in: tuple[float, float]) -> float:
    """Mean volume in m3: pi/6 E[d^3] with d even over [a, b].

    E[d^3] = (b^4 - a^4) / (4 (b - a)) = (a + b)(a^2 + b^2) / 4, which also holds at a = b.
    """
    a, b = (inches * c.METRES_PER_INCH for inches in inflated_in)
    return pi / 6 * (a + b) * (a * a + b * b) / 4


def mean_volume(spec: Spec) -> float:
    """Of one base balloon, in m3; shares are by count."""
    whole = sum(size.share for size in spec.sizes)
    return sum(size.share * balloon_volume(size.inflated_in) for size in spec.sizes) / whole


def smallest_diameter(spec: Spec) -> float:
    """Mean diameter in m of the smallest balloon of the base."""
    low, high = min(spec.sizes, key=lambda size: size.inflated_in).inflated_in
    return (low + high) / 2 * c.METRES_PER_INCH


def envelope(spec: Spec, length_m: float) -> float:
    """V = k pi/4 integral of W^2 ds, in m3."""
    k = c.FLAT_BACKING.value if spec.backing is Backing.FLAT else 1.0
    return k * pi / 4 * width_squared(length_m, spec.width)


def fill(
    spec: Spec, *, length_m: float, envelope_m3: float, fraction: float, swell: float = 1.0
) -> Body:
    """Base and accents that fill the envelope; below zero when there is no room.

    N0 = fraction V / mean volume. Accents count as shares of N0, singles by length;
    their volume, unrounded, leaves the base the rest: rounded, a growing garland could
    need fewer base balloons. `swell` multiplies every inflated diameter.
    """
    mean_m3 = mean_volume(spec) * swell**3
    whole = fraction * envelope_m3 / mean_m3
    taken = taken_volume(spec, length_m=length_m, whole=whole) * swell**3
    accents = tuple(accent.share * whole for accent in spec.accents)
    return Body(base=whole - taken / mean_m3, accents=accents)


def taken_volume(spec: Spec, *, length_m: float, whole: float) -> float:
    """Of accents and large singles in m3 at their own sizes, when N0 is `whole`."""
    taken = sum(a.share * whole * balloon_volume(a.inflated_in) for a in spec.accents)
    if spec.singles:
        taken += spec.singles.per_m * length_m * balloon_volume(spec.singles.inflated_in)
    return taken


def refuse_overfull(spec: Spec, body: Body) -> None:
    if body.base > 0:
        return
    key = "accents" if spec.accents else "singles"
    names = "accents and large singles" if spec.accents and spec.singles else key
    message = (
        f"the {names} alone fill the whole garland and leave no room for base balloons: "
        "ask for fewer of them or a larger width"
    )
    raise SpecError([Problem(key, message)])


def refuse_absurd(body: Body) -> None:
    if body.base <= c.MOST_BASE_BALLOONS:
        return
    message = (
        f"so long and wide a piece takes about {body.base:,.0f} balloons, and the most is "
        f"{c.MOST_BASE_BALLOONS:,}: make it as several pieces"
    )
    raise SpecError([Problem("path", message)])


def whole_up(count: float) -> int:
    return max(0, -int(-(count - _FUZZ) // 1))


def whole_down(count: float) -> int:
    return max(0, int((count + _FUZZ) // 1))
