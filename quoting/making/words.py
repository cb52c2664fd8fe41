"""Steps and packing bags in the owner's words."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from decor.display import length_text
from inventory.models import Colour
from quoting.making.keys import Work
from quoting.making.packing import WHATS, Load
from quoting.making.plan import Plan, Section, Step


@dataclass(frozen=True)
class Swatch:
    name: str
    hex: str


NO_SUCH_COLOUR = "#ffffff"


def swatches_of(plans: Iterable[Plan]) -> dict[str, Swatch]:
    """By colour's key. One question, however many there are."""
    keys = {step.key.colour for plan in plans for step in plan.steps if step.key.colour}
    known = {
        colour.key: Swatch(colour.name, colour.hex)
        for colour in Colour.objects.filter(key__in=keys)
    }
    return {key: known.get(key, Swatch(key.capitalize(), NO_SUCH_COLOUR)) for key in keys}


def section_title(section: Section, swatch: Swatch | None) -> str:
    if swatch is None:
        return "Large singles"
    return swatch.name + {Work.ACCENT: " accents", Work.STARBURST: " starbursts"}.get(
        section.group, ""
    )


def step_title(step: Step, swatches: Mapping[str, Swatch]) -> str:
    match step.key.work:
        case Work.CLUSTER:
            return f"Clusters of {step.of}"
        case Work.MINI:
            return "Mini-clusters"
        case Work.BUNCH:
            return f"Bunches of {step.of}"
        case Work.STARBURST:
            return "Starbursts"
        case Work.SINGLE:
            return f"{swatches[step.key.colour].name} {step.key.size}-inch"
        case Work.PACK:
            return f"Packing bag {step.key.size}"
    return f"{step.key.size}-inch"


def step_doing(step: Step) -> str:
    """What one does with the balloons of a step, and to which diameter."""
    low, high = step.inflated_in or (0, 0)
    if step.key.work is Work.SINGLE:
        return f"stays flat until the place: there {low:g} to {high:g} in"
    if step.inflated_in:
        return f"inflated to {low:g} to {high:g} in"
    return {
        Work.CLUSTER: "twisted",
        Work.MINI: f"of {step.of}, three quads each",
        Work.BUNCH: "tied",
        Work.STARBURST: f"of {step.of} points, by hand pump",
        Work.PACK: "packed",
    }[step.key.work]


def load_words(load: Load, swatches: Mapping[str, Swatch]) -> list[str]:
    """Such as `9 clusters: 6 oat, 3 fern`."""
    by_what: dict[str, dict[str, int]] = {}
    for (what, colour), count in load.counts.items():
        by_what.setdefault(what, {})[colour] = count
    return [
        f"{counted(what, sum(colours.values()))}: "
        + ", ".join(f"{n} {_colour(c, swatches)}" for c, n in colours.items())
        for what, colours in by_what.items()
    ]


def filling_words(load: Load, swatches: Mapping[str, Swatch]) -> str:
    """What goes in, bottom to top."""
    whats = {what for _, what, _ in load.filling}
    return ", ".join(
        f"{count} {_colour(colour, swatches)}"
        + ("" if len(whats) == 1 else f" {WHATS[what][count != 1]}")
        for count, what, colour in load.filling
    )


def where_words(load: Load, units: str, *, is_one_of_several: bool) -> str:
    """Where it hangs, along the path from where it begins, to the nearest inch or centimetre."""
    start, end = length_text(load.from_m, units), length_text(load.to_m, units)
    along = f"at {start}" if start == end else f"{start} to {end}"
    return f"{load.piece.title}: {along}" if is_one_of_several else along


def counted(what: str, count: int) -> str:
    return f"{count} {WHATS[what][count != 1]}"


def _colour(key: str, swatches: Mapping[str, Swatch]) -> str:
    swatch = swatches.get(key)
    return (swatch.name if swatch else key).lower()
