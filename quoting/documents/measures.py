"""The sizes of a piece as a client needs them: will it fit, and how big will it look?"""

from dataclasses import dataclass

from decor.display import length_text
from quoting.documents.picturing import Seen
from quoting.estimator import Spec
from quoting.estimator.paths import path_length


@dataclass(frozen=True)
class Measure:
    label: str
    text: str


def measures_of(spec: Spec, seen: Seen | None, *, units: str) -> tuple[Measure, ...]:
    """What is too large to be pictured has no overall size."""
    overall = (Measure("Overall", overall_text(seen, units)),) if seen else ()
    return (
        *overall,
        Measure("Length", f"{length_text(path_length(spec.path), units)} along the garland"),
        Measure("Thickness", thickness_text(spec, units)),
    )


def overall_text(seen: Seen, units: str) -> str:
    """`About`, as balloons settle by hand a little differently each time."""
    wide, high = length_text(seen.width_m, units), length_text(seen.height_m, units)
    return f"About {wide} wide, {high} high"


def thickness_text(spec: Spec, units: str) -> str:
    widths = [station.width_m for station in spec.width]
    slim, full = length_text(min(widths), units), length_text(max(widths), units)
    return slim if slim == full else f"{slim} to {full}"
