"""What can be bought, and at what price by the bag."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property
from typing import Any, Final, Literal

from . import constants as c
from .problems import CatalogueError, Problem
from .shapes import Choice, Each, Field, Maybe, Number, Record, Text, Whole, YesNo, shown

Kind = Literal["latex", "foil"]
_NAMED_COLOURS: Final = 12
_HEX: Final = re.compile("#[0-9A-Fa-f]{6}")


@dataclass(frozen=True, kw_only=True)
class CatalogueItem:
    """One thing bought by the bag. `loss_rate` None: the business's default for its kind."""

    colour: str
    name: str
    kind: Kind
    nominal_in: float | None
    bag_count: int
    bag_cents: int
    hex: str
    special_order: bool = False
    loss_rate: float | None = None


@dataclass(frozen=True, kw_only=True)
class SundryItem:
    """`unit_cents` may be a fraction of a cent: a rubber band costs less than one."""

    item: str
    unit: str
    unit_cents: Decimal


@dataclass(frozen=True, kw_only=True)
class Catalogue:
    """Items by kind, colour and nominal size; foil points have no nominal size."""

    items: tuple[CatalogueItem, ...]
    sundries: tuple[SundryItem, ...] = field(default=())

    @cached_property
    def _by_key(self) -> Mapping[tuple[str, str, float | None], CatalogueItem]:
        return {(i.kind, i.colour, i.nominal_in): i for i in self.items}

    @cached_property
    def _sundries_by_name(self) -> Mapping[str, SundryItem]:
        return {sundry.item: sundry for sundry in self.sundries}

    def item(self, kind: str, colour: str, nominal_in: float | None) -> CatalogueItem:
        return self._by_key[kind, colour, nominal_in]

    def sundry_cents(self, item: str) -> Decimal | None:
        """None where the catalogue does not price it."""
        priced = self._sundries_by_name.get(item)
        return priced.unit_cents if priced else None

    def latex_problems(self, colour: str, nominals: Sequence[float], key: str) -> Iterator[Problem]:
        stocked = sorted(
            i.nominal_in for i in self.items if (i.kind, i.colour) == ("latex", colour)
        )
        if not stocked:
            yield self._unknown(colour, "latex", key)
            return
        for nominal in nominals:
            if nominal not in stocked:
                sizes = ", ".join(f"{size:g}" for size in stocked)
                message = f"{shown(colour)} is in the catalogue at {sizes} in, not {nominal:g} in"
                yield Problem(key, message)

    def foil_problems(self, colour: str, key: str) -> Iterator[Problem]:
        if ("foil", colour, None) not in self._by_key:
            yield self._unknown(colour, "foil", key)

    def _unknown(self, colour: str, kind: str, key: str) -> Problem:
        known = sorted({i.colour for i in self.items if i.kind == kind}) or ["none"]
        more = len(known) - _NAMED_COLOURS
        listed = ", ".join(known[:_NAMED_COLOURS]) + (f" and {more} more" if more > 0 else "")
        return Problem(key, f"unknown {kind} colour {shown(colour)}; the catalogue has {listed}")


def catalogue_from_dict(data: Mapping[str, Any]) -> Catalogue:
    """Raises CatalogueError with every problem."""
    problems: list[Problem] = []
    fields = _CATALOGUE_SHAPE.read_fields(data, "", problems)
    if problems:
        raise CatalogueError(problems)
    fields.pop("version")
    return Catalogue(**fields)


def catalogue_to_dict(catalogue: Catalogue) -> dict[str, Any]:
    return {
        "version": 1,
        "items": [dict(vars(item)) for item in catalogue.items],
        "sundries": [
            {**vars(sundry), "unit_cents": float(sundry.unit_cents)}
            for sundry in catalogue.sundries
        ],
    }


def _sundry(*, item: str, unit: str, unit_cents: float) -> SundryItem:
    return SundryItem(item=item, unit=unit, unit_cents=Decimal(str(unit_cents)))


def _item_fits(fields: Mapping[str, Any], key: str) -> Iterator[Problem]:
    if "hex" in fields and not _HEX.fullmatch(fields["hex"]):
        yield Problem(f"{key}.hex", f"must be as in #5E7F57, not {shown(fields['hex'])}")
    if {"kind", "nominal_in"} <= fields.keys():
        is_foil = fields["kind"] == "foil"
        if is_foil != (fields["nominal_in"] is None):
            message = "must be null for foil points" if is_foil else "a latex size in inches"
            yield Problem(f"{key}.nominal_in", message)


def _listed_once(items: Sequence[CatalogueItem], key: str) -> Iterator[Problem]:
    seen = set()
    for i, item in enumerate(items):
        identity = (item.kind, item.colour, item.nominal_in)
        if identity in seen:
            yield Problem(f"{key}[{i}]", "is listed twice: one entry a kind, colour and size")
        seen.add(identity)


_ITEM_SHAPE = Record(
    CatalogueItem,
    {
        "colour": Field(Text()),
        "name": Field(Text()),
        "kind": Field(Choice(("latex", "foil"))),
        "nominal_in": Field(Maybe(Number(*c.NOMINAL_IN, "in"))),
        "bag_count": Field(Whole(1, 100_000, "a bag")),
        "bag_cents": Field(Whole(0, 100_000_000, "cents")),
        "hex": Field(Text(7)),
        "special_order": Field(YesNo(), False),
        "loss_rate": Field(Maybe(Number(0, 0.9)), None),
    },
    _item_fits,
)
_SUNDRY_SHAPE = Record(
    _sundry,
    {
        "item": Field(Text()),
        "unit": Field(Text()),
        "unit_cents": Field(Number(0, 10_000_000, "cents")),
    },
)
_CATALOGUE_SHAPE: Final = Record(
    Catalogue,
    {
        "version": Field(Choice((1,))),
        "items": Field(Each(_ITEM_SHAPE, 1, 5000, _listed_once)),
        "sundries": Field(Each(_SUNDRY_SHAPE, 0, 500), ()),
    },
)
