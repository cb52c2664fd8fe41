"""Hours of work by phase: quantity times unit time."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from . import constants as c
from .orders import OrderConditions
from .paths import path_top
from .rates import Rates, UnitTimes
from .recipe import Needed, Recipe
from .spec import Spec
from .sundries import fixing_count
from .wording import people


@dataclass(frozen=True, kw_only=True)
class LabourLine:
    phase: str
    person_hours: float
    why: str


def elapsed_hours(person_hours: float, crew: int, times: UnitTimes) -> float:
    """Each extra person adds a little of everybody's time: they wait and talk."""
    return person_hours / crew * (1 + times.extra_person_share * (crew - 1))


def piece_labour(
    spec: Spec, recipe: Recipe, *, anchors: int, rates: Rates
) -> tuple[LabourLine, ...]:
    """Making, packing and hanging one piece; the visit's own hours are `visit_labour`."""
    times = rates.unit_times
    lines = (
        *_making(recipe, times),
        *_hanging(spec, recipe, anchors, times),
    )
    return tuple(line for line in lines if line.person_hours > 0)


def visit_labour(
    lengths_m: Sequence[float], *, conditions: OrderConditions, crew: int, rates: Rates
) -> tuple[LabourLine, ...]:
    """Loading, driving and taking down, once for an order of any number of pieces."""
    times = rates.unit_times
    lines = [_line("load and unload", times.load_s + times.unload_s, "load and unload the vehicle")]
    if rates.drive_time_paid:
        minutes = 2 * conditions.round_trips * conditions.drive_minutes
        why = f"{minutes:g} min of driving, {people(crew)}"
        lines.append(_line("drive", minutes * 60 * crew, why))
    if conditions.strike:
        seconds = len(lengths_m) * times.strike_s + sum(lengths_m) * times.strike_per_m_s
        why = f"take down {sum(lengths_m):.1f} m and clear up"
        lines.append(_line("strike", seconds, why))
    return tuple(line for line in lines if line.person_hours > 0)


def _line(phase: str, seconds: float, why: str) -> LabourLine:
    return LabourLine(phase=phase, person_hours=seconds / c.SECONDS_PER_HOUR, why=why)


def inflate_seconds(line: Needed, times: UnitTimes) -> float:
    """Of one latex balloon, by the nearest usual size that is not smaller."""
    if line.nominal_in is None:
        return 0.0
    by_size = (
        (5.0, times.inflate_5_s),
        (13.0, times.inflate_11_s),
        (20.0, times.inflate_17_s),
    )
    for up_to, seconds in by_size:
        if line.nominal_in <= up_to:
            return seconds
    return times.inflate_24_s


def _inflating(needed: Iterable[Needed], times: UnitTimes) -> tuple[int, float]:
    lines = [line for line in needed if line.kind == "latex"]
    return (
        sum(line.count for line in lines),
        sum(line.count * inflate_seconds(line, times) for line in lines),
    )


def _making(recipe: Recipe, times: UnitTimes) -> Iterator[LabourLine]:
    made = [line for line in recipe.needed if line.use != "single"]
    count, seconds = _inflating(made, times)
    yield _line("inflate and tie", seconds, f"{count} latex balloons, timed by size")
    twist = times.twist_four_s if recipe.cluster_of == 4 else times.twist_eight_s
    clusters = recipe.cluster_count
    why = f"{clusters} clusters of {recipe.cluster_of} at {twist:g} s"
    yield _line("twist clusters", clusters * twist, why)
    minis = recipe.minis
    yield _line("mini-clusters", minis * times.mini_s, f"{minis} minis at {times.mini_s:g} s")
    bursts = recipe.starbursts
    why = f"{bursts} starbursts at {times.starburst_s / 60:g} min, by hand pump"
    yield _line("starbursts", bursts * times.starburst_s, why)
    why = f"{clusters} clusters at {times.pack_cluster_s:g} s"
    yield _line("pack", clusters * times.pack_cluster_s, why)


def _hanging(spec: Spec, recipe: Recipe, anchors: int, times: UnitTimes) -> Iterator[LabourLine]:
    fixings = fixing_count(recipe)
    large = [line for line in recipe.needed if line.use == "single"]
    singles, inflating = _inflating(large, times)
    plain = (
        recipe.cluster_count * times.join_cluster_s
        + (fixings + singles) * times.attach_s
        + anchors * times.anchor_s
        + inflating
    )
    slower, reasons = slowed(spec, times)
    hang = plain * slower
    why = (
        f"{recipe.cluster_count} clusters, {fixings} fixings, "
        f"{singles} large singles, {anchors} anchors"
    )
    yield _line("hang", hang, why + reasons)
    why = f"step back, check and fill: {times.check_share:.0%} of hanging"
    yield _line("check and fill", hang * times.check_share, why)


def slowed(spec: Spec, times: UnitTimes) -> tuple[float, str]:
    """How many times as long hanging takes here, and why."""
    factor, reasons = 1.0, ""
    if needs_ladder(spec):
        factor *= times.ladder_factor
        reasons += f"; on a ladder ×{times.ladder_factor:g}"
    site = spec.site
    if site.rain or site.hung_at_c < c.COLD_WORK_C.value:
        factor *= times.cold_or_rain_factor
        reasons += f"; cold or rain ×{times.cold_or_rain_factor:g}"
    if site.outdoor and times.outdoor_factor > 1:
        factor *= times.outdoor_factor
        reasons += f"; outdoors ×{times.outdoor_factor:g}"
    return factor, reasons


def needs_ladder(spec: Spec) -> bool:
    return top_m(spec) > c.LADDER_ABOVE_M.value


def top_m(spec: Spec) -> float:
    """How high the work goes: the site's height or the path's own, whichever is more."""
    return max(spec.site.height_m, path_top(spec.path))
