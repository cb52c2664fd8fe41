"""How a piece travels, for the owner's panel."""

from collections.abc import Iterator

from decor.display import hours_text
from quoting.estimator import Estimate
from quoting.estimator.saying import Measure, Quantity, say
from quoting.pieces.facts import FactRow


def packing_rows(made: Estimate, *, units: str) -> Iterator[FactRow]:
    packing = made.packing

    def room(cubic_m: float) -> str:
        return say(Quantity(cubic_m, Measure.VOLUME), units)

    bag = f"of {room(packing.bag_m3)}; {room(packing.travels_m3)} of balloons"
    yield FactRow("Packing bags", str(packing.bags), bag, "sundry packing bag")
    share = f"{packing.vehicle_share:.0%}"
    if packing.fits:
        text, note = "fits at once", f"{share} of your vehicle's {room(packing.vehicle_m3)}"
    else:
        text = f"{packing.loads} loads"
        note = f"it is {share} of your vehicle's {room(packing.vehicle_m3)}"
    yield FactRow("In the vehicle", text, note, "loads")
    hours = packing.pack_hours + packing.load_hours
    loading = f"{hours_text(packing.load_hours)} of it to load and unload"
    yield FactRow("Time to pack and load", hours_text(hours), loading, "hours pack")
    if packing.singles_at_site:
        said = f"{packing.singles_at_site} large single"
        yield FactRow(
            "Inflated at the place",
            said if packing.singles_at_site == 1 else f"{said}s",
            "take the pump, and power or a battery for it",
        )
    minutes = max(1, round(made.pump_minutes))
    yield FactRow("Pump running", f"{minutes} min", "for all of the air in it", "pump minutes")


def packing_short(made: Estimate) -> str:
    bags, packing = made.packing.bags, made.packing
    room = "fits at once" if packing.fits else f"{packing.loads} loads"
    return f"{bags} bag{'' if bags == 1 else 's'}, {room}"
