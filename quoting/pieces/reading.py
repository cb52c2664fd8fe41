"""What was typed for a piece, read: the form with its errors, or a spec and its estimate."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any

from decor.models.located import Coordinates
from quoting.estimator import (
    Catalogue,
    Estimate,
    OrderConditions,
    Rates,
    Spec,
    SpecError,
    estimate,
    spec_from_dict,
)
from quoting.pieces.form import SEVERAL, PieceForm, Typed
from quoting.pieces.problem_words import field_problems
from quoting.pieces.shelf import Shelf, shelf_of
from quoting.pieces.spec_building import Around, BuiltSpec, build_spec


@dataclass(frozen=True, kw_only=True)
class Surroundings:
    """All that is not typed but bears on a piece. `offered` is what can be chosen anew."""

    units: str
    catalogue: Catalogue
    offered: Catalogue
    rates: Rates
    conditions: OrderConditions
    site_pk: int | None = None
    site_name: str = ""
    site_is_outdoor: bool = False
    coordinates: Coordinates | None = None
    timezone: str = "UTC"
    event_on: date | None = None

    @cached_property
    def _offered_shelf(self) -> Shelf:
        return shelf_of(self.offered)

    @cached_property
    def _whole_shelf(self) -> Shelf:
        return shelf_of(self.catalogue)

    def shelf_for(self, typed: Typed) -> Shelf:
        return self._offered_shelf.with_kept(_colour_keys(typed), self._whole_shelf)

    def estimate(self, spec: Spec) -> Estimate:
        return estimate(
            spec, catalogue=self.catalogue, rates=self.rates, conditions=self.conditions
        )


@dataclass(frozen=True, kw_only=True)
class Reading:
    """`spec` and `estimate` are both there, or the form says why not."""

    form: PieceForm
    around: Around
    spec: Spec | None = None
    estimate: Estimate | None = None

    @property
    def is_possible(self) -> bool:
        return self.estimate is not None


def read_piece(typed: Typed, surroundings: Surroundings) -> Reading:
    shelf = surroundings.shelf_for(typed)
    form = PieceForm(typed, units=surroundings.units, shelf=shelf)
    around = Around(
        units=surroundings.units, shelf=shelf, site_is_outdoor=surroundings.site_is_outdoor
    )
    if not form.is_valid():
        return Reading(form=form, around=around)
    built = build_spec(form.cleaned_data, around)
    try:
        spec = spec_from_dict(built.data, catalogue=surroundings.catalogue)
        made = surroundings.estimate(spec)
    except SpecError as error:
        _refuse(form, error, built)
        return Reading(form=form, around=around)
    return Reading(form=form, around=around, spec=spec, estimate=made)


def _refuse(form: PieceForm, error: SpecError, built: BuiltSpec) -> None:
    for problem in field_problems(error.problems, built, units=form.units):
        known = problem.field in form.fields
        form.add_error(problem.field if known else None, problem.message)


def _colour_keys(typed: Mapping[str, Any]) -> list[str]:
    ticked = [typed.get(name, []) for name in SEVERAL]
    keys = [key for value in ticked for key in ([value] if isinstance(value, str) else value)]
    bursts = [
        name.removeprefix("burst_")
        for name, value in typed.items()
        if name.startswith("burst_") and value
    ]
    return list(dict.fromkeys(keys + bursts))
