"""Reads from a page's address what a palette begins from, and finds its colours."""

from collections.abc import Sequence
from dataclasses import dataclass

from django import forms
from django.http import QueryDict

from decor.models import Job, JobPhoto
from quoting.estimator.palette import SeasonalPalette, seasonal_palettes
from quoting.palettes.balloons import Balloon
from quoting.palettes.forms import NamedColoursForm, OneColourForm
from quoting.palettes.starts import (
    FoundColour,
    NothingFound,
    Scheme,
    Way,
    found_in_photo,
    found_in_season,
    found_named,
    schemes_of,
)

PHOTO_GONE = "This photo is not with the job any more: choose another."
PALETTE_UNKNOWN = "There is no such set of colours: choose one of these."


@dataclass(frozen=True, kw_only=True)
class Beginning:
    """`found` is empty until something is chosen; `problem` says why it stays so."""

    way: Way
    found: tuple[FoundColour, ...] = ()
    problem: str = ""
    form: forms.Form | None = None
    photo: JobPhoto | None = None
    schemes: tuple[Scheme, ...] = ()
    scheme: Scheme | None = None
    season: SeasonalPalette | None = None

    @property
    def is_refused(self) -> bool:
        return bool(self.problem or (self.form and self.form.errors))


def beginning_of(asked: QueryDict, *, job: Job, balloons: Sequence[Balloon]) -> Beginning:
    way = asked.get("from", "")
    if way == Way.TYPED:
        return _named(asked, balloons)
    if way == Way.ONE:
        return _one(asked, balloons)
    if way == Way.SEASON:
        return _season(asked)
    return _photo(asked, job)


def _photo(asked: QueryDict, job: Job) -> Beginning:
    number = asked.get("photo", "")
    if not number:
        return Beginning(way=Way.PHOTO)
    is_number = number.isascii() and number.isdigit() and len(number) < 18
    photo = job.photos.filter(pk=number).first() if is_number else None
    if photo is None:
        return Beginning(way=Way.PHOTO, problem=PHOTO_GONE)
    try:
        return Beginning(way=Way.PHOTO, photo=photo, found=found_in_photo(photo))
    except NothingFound as refused:
        return Beginning(way=Way.PHOTO, photo=photo, problem=str(refused))


def _named(asked: QueryDict, balloons: Sequence[Balloon]) -> Beginning:
    is_asked = "colours" in asked or "shelf" in asked
    form = NamedColoursForm(asked if is_asked else None, balloons=balloons)
    found = found_named(form.hexes(), balloons) if form.is_valid() else ()
    return Beginning(way=Way.TYPED, form=form, found=found)


def _one(asked: QueryDict, balloons: Sequence[Balloon]) -> Beginning:
    form = OneColourForm(asked if "colour" in asked else None)
    if not form.is_valid():
        return Beginning(way=Way.ONE, form=form)
    colour = form.cleaned_data["colour"]
    try:
        schemes = schemes_of(colour)
    except NothingFound as refused:
        found = found_named([colour], balloons)
        return Beginning(way=Way.ONE, form=form, problem=str(refused), found=found)
    scheme = next((each for each in schemes if each.name == asked.get("scheme")), schemes[0])
    return Beginning(way=Way.ONE, form=form, schemes=schemes, scheme=scheme, found=scheme.found)


def _season(asked: QueryDict) -> Beginning:
    name = asked.get("palette", "")
    if not name:
        return Beginning(way=Way.SEASON)
    chosen = next((each for each in seasonal_palettes() if each.name == name), None)
    if chosen is None:
        return Beginning(way=Way.SEASON, problem=PALETTE_UNKNOWN)
    return Beginning(way=Way.SEASON, season=chosen, found=found_in_season(chosen))
