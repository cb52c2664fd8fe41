"""Where a palette begins: a photo, colours typed or ticked, one colour, a season."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from django.db import models

from decor.models import JobPhoto
from quoting.estimator.palette import (
    PhotoColour,
    PhotoError,
    SeasonalPalette,
    colours_of_photo,
    harmonies,
)
from quoting.palettes.balloons import Balloon

PHOTO_UNREADABLE: Final = (
    "No colours can be read from this photo: its file is missing or broken. Choose another, or "
    "add it again."
)
NO_HUE: Final = (
    "A white, grey or black has no opposite and no neighbours: it goes with every colour. Choose "
    "it together with others under “Colours I name”."
)
OWN_COLOUR: Final = "your colour"


class Way(models.TextChoices):
    PHOTO = "photo", "A photo"
    TYPED = "typed", "Colours I name"
    ONE = "one", "One colour"
    SEASON = "season", "A season"


@dataclass(frozen=True, kw_only=True)
class FoundColour:
    """`share` is of the photo's area; only a photo has shares."""

    name: str
    hex: str
    share: float | None = None

    @property
    def share_word(self) -> str:
        return "" if self.share is None else f"{self.share * 100:.0f} % of the photo"


class NothingFound(Exception):
    """The message is for the owner to read."""


def found_in_photo(photo: JobPhoto) -> tuple[FoundColour, ...]:
    try:
        with photo.image.open() as file:
            colours = colours_of_photo(file.read())
    except (OSError, PhotoError):
        raise NothingFound(PHOTO_UNREADABLE) from None
    return tuple(_found(number, colour) for number, colour in enumerate(colours, start=1))


def _found(number: int, colour: PhotoColour) -> FoundColour:
    return FoundColour(name=f"colour {number}", hex=colour.hex, share=float(colour.share))


def found_named(hexes: Iterable[str], balloons: Sequence[Balloon]) -> tuple[FoundColour, ...]:
    """One that is a balloon's own is called by its name."""
    names = {balloon.hex: balloon.name for balloon in balloons}
    return tuple(FoundColour(name=names.get(each, each), hex=each) for each in hexes)


@dataclass(frozen=True, kw_only=True)
class Scheme:
    name: str
    found: tuple[FoundColour, ...]


def schemes_of(hex_value: str) -> tuple[Scheme, ...]:
    found = tuple(
        Scheme(
            name=harmony.name,
            found=tuple(
                FoundColour(name=_scheme_name(harmony.name, number), hex=each)
                for number, each in enumerate(harmony.hexes)
            ),
        )
        for harmony in harmonies(hex_value)
    )
    if not found:
        raise NothingFound(NO_HUE)
    return found


def _scheme_name(scheme: str, number: int) -> str:
    return f"{scheme} {number}" if number else OWN_COLOUR


def found_in_season(palette: SeasonalPalette) -> tuple[FoundColour, ...]:
    return tuple(FoundColour(name=each.name, hex=each.hex) for each in palette.colours)
