"""The sizes of a piece as a client needs them: will it fit, and how big will it look?"""

from dataclasses import dataclass

from decor.display import length_text
from quoting.documents.shape_drawing import extent_of
from quoting.estimator import Spec
from quoting.estimator.paths import path_length


@dataclass(frozen=True)
class Measure:
    label: str
    text: str


def measures_of(spec: Spec, *, units: str) -> tuple[Measure, ...]:
    extent = extent_of(spec)
    wide, high = length_text(extent.width_m, units), length_text(extent.height_m, units)
    return (
        Measure("Overall", f"{wide} wide, {high} high"),
        Measure("Length", f"{length_text(path_length(spec.path), units)} along the garland"),
        Measure("Thickness", _thickness(spec, units)),
    )


def _thickness(spec: Spec, units: str) -> str:
    widths = [station.width_m for station in spec.width]
    slim, full = length_text(min(widths), units), length_text(max(widths), units)
    return slim if slim == full else f"{slim} to {full}"
