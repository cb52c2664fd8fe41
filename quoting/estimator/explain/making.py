"""Anchors, sundries, air, packing and wind."""

from collections.abc import Iterator

from .. import constants as c
from ..air import air_volume
from ..estimating import Estimate
from ..filling import balloon_volume
from ..packing import INFLATED_AT_SITE
from ..paths import is_closed
from ..recipe import Needed
from .term import Explanation, Formula, Term, of_constant, of_piece, of_rates, worked_out


def making(est: Estimate) -> Iterator[Explanation]:
    yield from _wind(est)
    yield _anchors(est)
    yield from (_sundry(est, line.item, line.quantity, line.unit) for line in est.sundries)
    yield from _air(est)
    yield from _packing(est)


def _anchor_term(est: Estimate, symbol: str) -> Term:
    return worked_out(symbol, "anchors", est.wind.anchors, "each", see="anchors")


def _wind(est: Estimate) -> Iterator[Explanation]:
    pressure = (
        of_constant("ρ", "half the density of air", c.AIR_PRESSURE_FACTOR),
        of_piece("G", "gust", est.spec.site.gust_mps, "m/s"),
    )
    yield Explanation(
        key="wind pressure",
        title="Pressure of the gust",
        formula="ρ × G²",
        parts=pressure,
        value=est.wind.pressure_pa,
        unit="Pa",
        to_change="Another hour: half the gust is a quarter of the pressure.",
    )
    yield Explanation(
        key="wind force",
        title="Force of the gust on the piece",
        formula="ρ × G² × K × A",
        parts=(
            *pressure,
            of_constant("K", "drag", c.DRAG),
            worked_out("A", "face", est.face_area_m2, "m2", see="face area"),
        ),
        value=est.wind.force_n,
        unit="N",
        to_change="Another hour, a sheltered side, or a smaller face.",
    )
    yield Explanation(
        key="force per anchor",
        title="Force on each anchor",
        formula="F / a",
        parts=(
            worked_out("F", "force", est.wind.force_n, "N", see="wind force"),
            _anchor_term(est, "a"),
        ),
        value=est.wind.force_per_anchor_n,
        unit="N",
        to_change="More anchors, from every side. It is a caution and no structural design.",
    )


def _anchors(est: Estimate) -> Explanation:
    site, rates = est.spec.site, est.rates
    spacing = c.ANCHOR_SPACING_OUTDOORS_M if site.outdoor else c.ANCHOR_SPACING_INDOORS_M
    end = 0 if is_closed(est.spec.path) else 1
    parts = [
        worked_out("L", "length", est.path_length_m, "m", see="path length"),
        of_constant("d", "no further apart than", spacing),
        of_piece("e", "one more at the other end; none on a ring", end, "each"),
    ]
    formula = "up(L / d) + e"
    if site.outdoor:
        formula += " + x"
        parts.append(of_constant("x", "more at the bottom", c.EXTRA_LOW_TIES_OUTDOORS))
    if 0 < site.gust_mps <= rates.wind_limit_mps:
        formula = f"max({formula}, min(up(F / T), up(L / q) + e))"
        parts += [
            worked_out("F", "force of the gust", est.wind.force_n, "N", see="wind force"),
            of_rates("T", "what one tie holds", rates.tie_strength_n, "N"),
            of_constant("q", "no closer than", c.ANCHOR_CLOSEST_M),
        ]
    return Explanation(
        key="anchors",
        title="Anchors",
        formula=formula,
        parts=tuple(parts),
        value=est.wind.anchors,
        unit="each",
        to_change="A shorter path needs fewer; weaker ties or more wind need more.",
    )


def _sundry(est: Estimate, item: str, quantity: float, unit: str) -> Explanation:
    if item == "packing bag":
        formula, parts = _bags(est)
        change = "Larger bags, or larger balloons inflated at the site."
    elif item == est.rates.tie:
        formula, parts = _fixings(est)
        change = "Fewer bunches, minis or starbursts; or fix with something else."
    else:
        formula = "tenths(a × m)"
        parts = (_anchor_term(est, "a"), of_constant("m", "ribbon for each", c.TIE_M))
        change = "It follows the anchors."
    return Explanation(
        key=f"sundry {item}",
        title=item.capitalize(),
        formula=formula,
        parts=parts,
        value=quantity,
        unit=unit,
        to_change=change,
    )


def _bags(est: Estimate) -> Formula:
    return "up(P / g)", (
        worked_out("P", "packed before the drive", est.packing.travels_m3, "m3", see="travels"),
        of_rates("g", "one bag holds", est.rates.packing_bag_m3, "m3"),
    )


def _fixings(est: Estimate) -> Formula:
    make = est.make
    parts = (
        worked_out("b", "accent bunches", make.accent_bunches, "each"),
        worked_out("m", "minis", make.minis, "each"),
        worked_out("s", "starbursts, two for each", make.starbursts, "each"),
    )
    count = f"b + m + {c.BANDS_PER_STARBURST} × s"
    if est.rates.tie != "fishing line":
        return count, parts
    return f"tenths(({count}) × l)", (*parts, of_constant("l", "for one", c.LINE_PER_FIXING_M))


def _air(est: Estimate) -> Iterator[Explanation]:
    air = worked_out("V", "air", est.air_m3, "m3", see="air")
    lines = [line for line in est.make.needed if line.count]
    parts = tuple(part for i, line in enumerate(lines, start=1) for part in _filled(i, line))
    yield Explanation(
        key="air",
        title="Air inside all balloons",
        formula=" + ".join(f"n{i} × v{i}" for i in range(1, len(lines) + 1)),
        parts=parts,
        value=est.air_m3,
        unit="m3",
        to_change="Fewer or smaller balloons.",
    )
    yield Explanation(
        key="pump minutes",
        title="Minutes of pumping",
        formula="V / f",
        parts=(air, of_rates("f", "your pump gives", est.rates.pump_m3_per_min, "m3/min")),
        value=est.pump_minutes,
        unit="min",
        to_change="A pump of a larger flow, or a second one.",
    )
    yield Explanation(
        key="packed",
        title="Room when all of it is packed",
        formula="V / k",
        parts=(air, of_constant("k", "loose packing", c.LOOSE_PACKING)),
        value=est.packed_m3,
        unit="m3",
        to_change="Inflate part of it at the site.",
    )


def _filled(i: int, line: Needed) -> tuple[Term, Term]:
    what = f"{line.use} {line.colour}"
    count = worked_out(f"n{i}", what, line.count, "each")
    if line.inflated_in is None:
        return count, of_constant(f"v{i}", f"air in one point of {line.colour}", c.FOIL_POINT_M3)
    low, high = line.inflated_in
    volume = balloon_volume(line.inflated_in)
    return count, worked_out(f"v{i}", f"one sized {low:g} to {high:g} in", volume, "m3")


def _packing(est: Estimate) -> Iterator[Explanation]:
    packing = est.packing
    singles = air_volume(n for n in est.make.needed if n.use == INFLATED_AT_SITE)
    yield Explanation(
        key="travels",
        title="Room of what is inflated before the drive",
        formula="(V − S) / k",
        parts=(
            worked_out("V", "air", est.air_m3, "m3", see="air"),
            worked_out("S", "air of large singles, inflated at the site", singles, "m3"),
            of_constant("k", "loose packing", c.LOOSE_PACKING),
        ),
        value=packing.travels_m3,
        unit="m3",
        to_change="Inflate more of it at the site.",
    )
    yield Explanation(
        key="loads",
        title="Loads",
        formula="up(P / c)",
        parts=(
            worked_out("P", "packed before the drive", packing.travels_m3, "m3", see="travels"),
            of_rates("c", "your vehicle holds", packing.vehicle_m3, "m3", c.SMALL_VAN_M3),
        ),
        value=packing.loads,
        unit="loads",
        to_change="A larger vehicle, or inflate part of it at the site.",
    )
