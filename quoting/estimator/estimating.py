"""One piece from spec to price: the steps in their order."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from .air import air_volume, packed_volume
from .balloons import BalloonLine, BodyCount, balloon_lines, body_count
from .catalogue import Catalogue
from .cautions import Caution, find_cautions
from .costs import MaterialUse, PieceUse, PriceLine, SundryUse, piece_cost_lines
from .examples import example_catalogue
from .face_cover import flat_cover
from .filling import envelope
from .hours import LabourLine, elapsed_hours, piece_labour, visit_labour
from .orders import OrderConditions
from .packing import Packing, packing_of
from .paths import path_length
from .pricing import Price, price_order
from .rates import Rates, example_rates
from .recipe import Recipe, make_recipe
from .spec import Spec
from .spec_file import refuse_unknown_colours
from .stringing import StringItem, string_order
from .sundries import SundryLine, anchor_count, sundry_lines
from .weather.wind import Wind, wind_force, wind_on
from .widths import face_area


@dataclass(frozen=True, kw_only=True)
class Estimate:
    """Metres, m2, m3, hours, cents. `use` and `own_cost_cents` are what an order adds up.

    It keeps what it was made from, so that any of its figures can be explained.
    """

    spec: Spec
    catalogue: Catalogue
    rates: Rates
    conditions: OrderConditions
    path_length_m: float
    face_area_m2: float
    envelope_m3: float
    count: BodyCount
    balloons: tuple[BalloonLine, ...]
    make: Recipe
    sundries: tuple[SundryLine, ...]
    air_m3: float
    packed_m3: float
    packing: Packing
    pump_minutes: float
    labour: tuple[LabourLine, ...]
    elapsed_hours: float
    wind: Wind
    cautions: tuple[Caution, ...]
    use: PieceUse
    own_cost_cents: int
    price: Price

    @cached_property
    def string(self) -> tuple[StringItem, ...]:
        """Worked out when it is asked for: ranges and budgets try many pieces and string none."""
        return string_order(self.spec, self.make)

    @property
    def person_hours(self) -> float:
        return sum(line.person_hours for line in self.labour)

    @property
    def drivers(self) -> tuple[PriceLine, ...]:
        """Cost lines, the dearest first: what drives the price most."""
        return self.price.drivers


@dataclass(frozen=True, kw_only=True)
class _PieceAlone:
    """A piece before it is priced."""

    use: PieceUse
    own_cost_cents: int


def estimate(
    spec: Spec,
    *,
    catalogue: Catalogue | None = None,
    rates: Rates | None = None,
    conditions: OrderConditions | None = None,
) -> Estimate:
    """One piece by itself, with the spec's own travel where it has one.

    Raises SpecError when a colour is not in the catalogue, or when accents and singles
    leave no room for the base. Defaults: the built-in example business.
    """
    catalogue = catalogue or example_catalogue()
    rates = rates or example_rates()
    conditions = with_travel(spec, conditions or OrderConditions())
    refuse_unknown_colours(spec, catalogue)

    length_m = path_length(spec.path)
    face_m2 = face_area(length_m, spec.width)
    envelope_m3 = envelope(spec, length_m)
    count = body_count(spec, length_m=length_m, envelope_m3=envelope_m3, fill_share=rates.fill)
    recipe = make_recipe(spec, count.likely, length_m=length_m, face_m2=face_m2)
    balloons = balloon_lines(spec, recipe, count, catalogue=catalogue, rates=rates)

    force_n = wind_force(gust_mps=spec.site.gust_mps, face_m2=face_m2)
    anchors = anchor_count(spec, length_m=length_m, force_n=force_n, rates=rates)
    wind = wind_on(gust_mps=spec.site.gust_mps, face_m2=face_m2, anchors=anchors)
    labour = piece_labour(spec, recipe, anchors=anchors, rates=rates)
    visit = visit_labour([length_m], conditions=conditions, crew=spec.crew, rates=rates)
    packing = packing_of(recipe, (*labour, *visit), rates)
    sundries = sundry_lines(recipe, anchors=anchors, bags=packing.bags, tie=rates.tie)
    air_m3 = air_volume(recipe.needed)
    use = PieceUse(
        length_m=length_m,
        crew=spec.crew,
        materials=_materials(balloons, catalogue),
        sundries=_priced_sundries(sundries, catalogue),
        labour=labour,
    )
    own_cost = sum(line.amount_cents for line in piece_cost_lines([use], rates))
    piece = _PieceAlone(use=use, own_cost_cents=own_cost)
    hours = sum(line.person_hours for line in (*labour, *visit))
    return Estimate(
        spec=spec,
        catalogue=catalogue,
        rates=rates,
        conditions=conditions,
        path_length_m=length_m,
        face_area_m2=face_m2,
        envelope_m3=envelope_m3,
        count=count,
        balloons=balloons,
        make=recipe,
        sundries=sundries,
        air_m3=air_m3,
        packed_m3=packed_volume(air_m3),
        packing=packing,
        pump_minutes=air_m3 / rates.pump_m3_per_min,
        labour=(*labour, *visit),
        elapsed_hours=elapsed_hours(hours, spec.crew, rates.unit_times),
        wind=wind,
        cautions=find_cautions(
            spec,
            wind=wind,
            length_m=length_m,
            travels_m3=packing.travels_m3,
            cover=flat_cover(balloons, face_m2),
            rates=rates,
            catalogue=catalogue,
        ),
        use=use,
        own_cost_cents=own_cost,
        price=price_order([piece], rates=rates, conditions=conditions),
    )


def with_travel(spec: Spec, conditions: OrderConditions) -> OrderConditions:
    if spec.travel is None:
        return conditions
    return replace(
        conditions, distance_km=spec.travel.distance_km, drive_minutes=spec.travel.minutes
    )


def _materials(balloons: Sequence[BalloonLine], catalogue: Catalogue) -> tuple[MaterialUse, ...]:
    return tuple(
        MaterialUse(item=catalogue.item(line.kind, line.colour, line.nominal_in), total=line.total)
        for line in balloons
    )


def _priced_sundries(lines: Sequence[SundryLine], catalogue: Catalogue) -> tuple[SundryUse, ...]:
    return tuple(
        SundryUse(
            item=line.item,
            unit=line.unit,
            quantity=line.quantity,
            unit_cents=catalogue.sundry_cents(line.item),
        )
        for line in lines
    )
