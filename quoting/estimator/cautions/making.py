"""Ladders, foil near wires, room in the vehicle, and sizes that do not suit the piece."""

from collections.abc import Iterator

from .. import constants as c
from ..face_cover import ENOUGH
from ..filling import smallest_diameter
from ..hours import needs_ladder, top_m
from ..packing import vehicle_loads
from ..rates import Rates
from ..saying import Measure, Quantity
from ..spec import Spec
from .caution import Caution, Severity


def making_cautions(
    spec: Spec, *, travels_m3: float, cover: float, rates: Rates
) -> Iterator[Caution]:
    yield from _ladder(spec)
    yield from _wires(spec)
    yield from _room(travels_m3, rates)
    yield from _narrow(spec)
    yield from _gaps(cover)
    yield from _clusters(spec)


def _ladder(spec: Spec) -> Iterator[Caution]:
    if needs_ladder(spec):
        yield Caution(
            Severity.CARE,
            "ladder",
            "Work at {top} needs a ladder",
            "set its foot out one quarter of its working length, have someone hold it, and "
            "follow your local rules for work at height",
            {"top": Quantity(top_m(spec), Measure.LENGTH)},
        )


def _wires(spec: Spec) -> Iterator[Caution]:
    if spec.starbursts and spec.site.outdoor:
        yield Caution(
            Severity.CARE,
            "foil outdoors",
            "Foil outdoors conducts and flies off",
            "tie every starburst down, keep well away from power lines and check your local rules",
        )


def _room(travels_m3: float, rates: Rates) -> Iterator[Caution]:
    if travels_m3 > rates.vehicle_m3:
        yield Caution(
            Severity.CARE,
            "room",
            "Packed it takes {packed} and your vehicle holds {vehicle}",
            "plan {loads} loads, or inflate part of it at the site",
            {
                "packed": Quantity(travels_m3, Measure.VOLUME),
                "vehicle": Quantity(rates.vehicle_m3, Measure.VOLUME),
                "loads": Quantity(vehicle_loads(travels_m3, rates), Measure.COUNT),
            },
        )


def _narrow(spec: Spec) -> Iterator[Caution]:
    narrowest = min(station.width_m for station in spec.width)
    least = smallest_diameter(spec)
    if narrowest < least:
        yield Caution(
            Severity.NOTE,
            "narrow",
            "At its narrowest, {narrowest}, it is slimmer than one of its own balloons ({least})",
            "it comes out wider there, so make it wider or its balloons smaller",
            {
                "narrowest": Quantity(narrowest, Measure.LENGTH),
                "least": Quantity(least, Measure.LENGTH),
            },
        )


def _gaps(cover: float) -> Iterator[Caution]:
    if cover < ENOUGH:
        yield Caution(
            Severity.NOTE,
            "gaps",
            "Gaps will show: its balloons laid flat are {cover} of the face, and it takes {enough}",
            "use smaller balloons, a wider garland or fewer large singles",
            {
                "cover": Quantity(cover, Measure.SHARE),
                "enough": Quantity(ENOUGH, Measure.SHARE),
            },
        )


def _clusters(spec: Spec) -> Iterator[Caution]:
    for size in spec.sizes:
        if size.nominal_in <= 5:
            instead = "usual practice keeps them for mini-clusters"
        elif size.nominal_in >= c.LARGE_NOMINAL_IN:
            instead = "usual practice hangs them singly"
        else:
            continue
        sentence = f"{size.nominal_in:g}-inch balloons in the clusters"
        yield Caution(Severity.NOTE, "size in clusters", sentence, instead)
