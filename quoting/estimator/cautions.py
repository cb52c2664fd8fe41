"""What can go wrong at this site with this piece: few, specific, the gravest first."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import IntEnum

from . import constants as c
from .air import Wind, diameter_at
from .hours import needs_ladder, top_m
from .rates import Rates
from .spec import Accent, Fillers, Singles, Size, Spec


class Severity(IntEnum):
    STOP = 1
    CARE = 2
    NOTE = 3


@dataclass(frozen=True)
class Caution:
    severity: Severity
    text: str

    def __str__(self) -> str:
        return self.text


def find_cautions(spec: Spec, *, wind: Wind, packed_m3: float, rates: Rates) -> tuple[Caution, ...]:
    found = (
        *_wind(spec, wind, rates),
        *_ladder(spec),
        *_foil(spec),
        *_heat(spec),
        *_swelling(spec),
        *_cold(spec),
        *_room(packed_m3, rates),
        *_narrow(spec),
        *_clusters(spec),
    )
    return tuple(sorted(found, key=lambda caution: caution.severity))


def _wind(spec: Spec, wind: Wind, rates: Rates) -> Iterator[Caution]:
    gust = spec.site.gust_mps
    force = (
        f"{wind.force_n:.0f} N on the piece, {wind.force_per_anchor_n:.0f} N on each of "
        f"{wind.anchors} anchors"
    )
    if gust > rates.wind_limit_mps:
        yield Caution(
            Severity.STOP,
            f"Gusts of {gust:g} m/s are over your limit of {rates.wind_limit_mps:g} m/s "
            f"({force}): do not install; move it indoors or ask a licensed rigger.",
        )
    elif wind.force_per_anchor_n > rates.tie_strength_n:
        yield Caution(
            Severity.STOP,
            f"Gusts of {gust:g} m/s put {force}, more than your ties of "
            f"{rates.tie_strength_n:g} N can hold: add anchors or stronger ties, or ask a "
            "licensed rigger.",
        )


def _ladder(spec: Spec) -> Iterator[Caution]:
    if needs_ladder(spec):
        yield Caution(
            Severity.CARE,
            f"Work at {top_m(spec):g} m needs a ladder: set its foot out one quarter of its "
            "working length, have someone hold it, and follow your local rules for work at "
            "height.",
        )


def _foil(spec: Spec) -> Iterator[Caution]:
    if spec.starbursts and spec.site.outdoor:
        yield Caution(
            Severity.CARE,
            "Foil outdoors: tie every starburst down and keep well away from power lines; "
            "check your local rules.",
        )


def _inflations(spec: Spec) -> Iterator[tuple[float, float]]:
    """Nominal and largest inflated diameter of everything in latex, in inches."""
    groups: list[Size | Fillers | Singles | Accent] = [*spec.sizes, *spec.accents]
    groups += [group for group in (spec.fillers, spec.singles) if group]
    for group in groups:
        nominal = c.ACCENT_NOMINAL_IN if isinstance(group, Accent) else group.nominal_in
        yield nominal, group.inflated_in[1]


def _heat(spec: Spec) -> Iterator[Caution]:
    site = spec.site
    most = c.HOT_11_INCH_MAX_IN.value
    largest = max((d for nominal, d in _inflations(spec) if nominal == 11), default=0)
    if site.outdoor and site.hung_at_c >= c.HOT_C.value and largest > most:
        yield Caution(
            Severity.CARE,
            f"{site.hung_at_c:g} °C outdoors: inflate 11-inch to {most:g} in at most instead "
            f"of {largest:g} in, and the others smaller in the same way; dark colours go first.",
        )


def _swelling(spec: Spec) -> Iterator[Caution]:
    made, hung = spec.site.made_at_c, spec.site.hung_at_c
    for nominal, largest in _inflations(spec):
        swollen = diameter_at(largest, from_c=made, to_c=hung)
        if swollen > nominal:
            yield Caution(
                Severity.CARE,
                f"From {made:g} to {hung:g} °C a {nominal:g}-inch sized {largest:g} in swells "
                f"to {swollen:.1f} in, past its own size, and may burst: inflate it less.",
            )


def _cold(spec: Spec) -> Iterator[Caution]:
    site = spec.site
    if site.hung_at_c < c.COLD_C.value:
        kept = diameter_at(1.0, from_c=site.made_at_c, to_c=site.hung_at_c)
        yield Caution(
            Severity.NOTE,
            f"{site.hung_at_c:g} °C: balloons shrink by {1 - kept:.1%} across, latex turns soft "
            "and necks stiff; tie in the warm and warm your hands.",
        )


def _room(packed_m3: float, rates: Rates) -> Iterator[Caution]:
    if packed_m3 > rates.vehicle_m3:
        loads = -(-packed_m3 // rates.vehicle_m3)
        yield Caution(
            Severity.CARE,
            f"Packed it takes {packed_m3:.1f} m³ and your vehicle holds {rates.vehicle_m3:g} m³: "
            f"plan {loads:.0f} loads, or inflate part of it at the site.",
        )


def _narrow(spec: Spec) -> Iterator[Caution]:
    narrowest = min(station.width_m for station in spec.width)
    low, high = min(spec.sizes, key=lambda size: size.inflated_in).inflated_in
    least = (low + high) / 2 * c.METRES_PER_INCH
    if narrowest < least:
        yield Caution(
            Severity.NOTE,
            f"At its narrowest, {narrowest:g} m, it is slimmer than one of its own balloons "
            f"({least:.2f} m) and will come out wider there.",
        )


def _clusters(spec: Spec) -> Iterator[Caution]:
    for size in spec.sizes:
        if size.nominal_in <= 5:
            text = "5-inch balloons in the clusters: usual practice keeps them for mini-clusters."
            yield Caution(Severity.NOTE, text)
        elif size.nominal_in >= c.LARGE_NOMINAL_IN:
            text = f"{size.nominal_in:g}-inch in the clusters: usual practice hangs them singly."
            yield Caution(Severity.NOTE, text)
