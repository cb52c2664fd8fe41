"""How it travels: bags, loads, what is inflated only at the site, and the time it takes."""

from collections.abc import Iterable
from dataclasses import dataclass

from .air import air_volume, packed_volume
from .filling import whole_up
from .hours import LabourLine
from .rates import Rates
from .recipe import Needed, Recipe
from .saying import Measure, Quantity, fill_in

# Large singles are hung one by one and would fill the vehicle: they go as they were bought.
INFLATED_AT_SITE = "single"


@dataclass(frozen=True, kw_only=True)
class Packing:
    """m3 and hours. `packed_m3` is of everything, `travels_m3` of what is inflated before."""

    packed_m3: float
    travels_m3: float
    singles_at_site: int
    bags: int
    bag_m3: float
    loads: int
    vehicle_m3: float
    pack_hours: float
    load_hours: float

    @property
    def fits(self) -> bool:
        """In the vehicle at once."""
        return self.loads <= 1

    def said(self, units: str) -> str:
        return fill_in(
            "{bags} packing bags, {travels} in all, for a vehicle of {vehicle}: "
            + ("it fits" if self.fits else "plan {loads} loads, or inflate part at the site")
            + (
                "; {singles} large singles are inflated at the site" if self.singles_at_site else ""
            ),
            {
                "bags": Quantity(self.bags, Measure.COUNT),
                "travels": Quantity(self.travels_m3, Measure.VOLUME),
                "vehicle": Quantity(self.vehicle_m3, Measure.VOLUME),
                "loads": Quantity(self.loads, Measure.COUNT),
                "singles": Quantity(self.singles_at_site, Measure.COUNT),
            },
            units,
        )

    @property
    def vehicle_share(self) -> float:
        """How much of one vehicle it fills; above 1 it does not fit."""
        return self.travels_m3 / self.vehicle_m3


def travelling_volume(needed: Iterable[Needed]) -> float:
    return packed_volume(air_volume(line for line in needed if line.use != INFLATED_AT_SITE))


def bag_count(travels_m3: float, rates: Rates) -> int:
    return whole_up(travels_m3 / rates.packing_bag_m3)


def vehicle_loads(travels_m3: float, rates: Rates) -> int:
    return whole_up(travels_m3 / rates.vehicle_m3)


def packing_of(recipe: Recipe, labour: Iterable[LabourLine], rates: Rates) -> Packing:
    travels = travelling_volume(recipe.needed)
    hours = {line.phase: line.person_hours for line in labour}
    return Packing(
        packed_m3=packed_volume(air_volume(recipe.needed)),
        travels_m3=travels,
        singles_at_site=recipe.singles,
        bags=bag_count(travels, rates),
        bag_m3=rates.packing_bag_m3,
        loads=vehicle_loads(travels, rates),
        vehicle_m3=rates.vehicle_m3,
        pack_hours=hours.get("pack", 0.0),
        load_hours=hours.get("load and unload", 0.0),
    )


def order_loads(packings: Iterable[Packing], rates: Rates) -> int:
    """Pieces of one order share the vehicle."""
    return vehicle_loads(sum(packing.travels_m3 for packing in packings), rates)
