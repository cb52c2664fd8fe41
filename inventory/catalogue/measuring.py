"""What a colour looks like, measured from a photo of a balloon; the photo is not kept."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from django.core.files.uploadedfile import UploadedFile

from decor.pictures import MAX_BYTES
from inventory.models import Colour
from quoting.estimator.palette import (
    Box,
    Match,
    MeasuredColour,
    PhotoError,
    ShelfColour,
    match,
    measured_colour,
)
from quoting.estimator.palette.photo import open_photo

# Enough for a balloon that is a tenth of the photo, and a tenth of the memory of all pixels.
WORKING_PX: Final = 1000
TOO_HEAVY: Final = "This photo is over 20 MB. Send a smaller copy."
TOO_SMALL: Final = "This area is too small to measure: make it larger."


@dataclass(frozen=True, kw_only=True)
class Area:
    """Per cent of the upright photo's width and height."""

    left: Decimal
    top: Decimal
    width: Decimal
    height: Decimal

    def in_pixels(self, width_px: int, height_px: int) -> Box:
        return Box(
            left=round(width_px * self.left / 100),
            top=round(height_px * self.top / 100),
            right=round(width_px * (self.left + self.width) / 100),
            bottom=round(height_px * (self.top + self.height) / 100),
        )


class MeasuringRefused(Exception):
    """`field` is what to mend; the message is for the owner to read."""

    def __init__(self, field: str, message: str) -> None:
        self.field = field
        super().__init__(message)


def photo_measured(upload: UploadedFile, area: Area) -> MeasuredColour:
    if upload.size > MAX_BYTES:
        raise MeasuringRefused("photo", TOO_HEAVY)
    try:
        photo = open_photo(upload.file, at_least=WORKING_PX)
    except PhotoError as refused:
        raise MeasuringRefused("photo", f"This photo {refused.problems[0].message}.") from None
    try:
        return measured_colour(photo, area.in_pixels(*photo.size))
    except PhotoError:
        raise MeasuringRefused("width", TOO_SMALL) from None


def distance_from(colour: Colour, hex_value: str) -> Match:
    """How far what was measured is from what the catalogue has."""
    present = ShelfColour(key=colour.key, name=colour.name, hex=colour.hex)
    return match(hex_value, [present])[0]


def colour_looks(*, colour: Colour, hex_value: str) -> None:
    colour.hex = hex_value
    colour.full_clean()
    colour.save(update_fields=["hex"])
