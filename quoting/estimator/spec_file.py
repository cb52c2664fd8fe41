"""The spec file, version 1: read strictly, write back, and describe as JSON Schema."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any, Final

from . import constants as c
from .catalogue import Catalogue
from .paths import path_length
from .problems import Problem, SpecError
from .shapes import Choice, Each, Field, Fixed, Number, OneOf, Record, Text, Whole, YesNo
from .spec import (
    Accent,
    Arch,
    Backing,
    BaseColour,
    Drape,
    Fillers,
    Line,
    Pattern,
    Posts,
    Ring,
    Singles,
    Site,
    Size,
    Spec,
    Starburst,
    Station,
    Swag,
    Travel,
)

_MOST_COLOURS = 12


def spec_from_dict(data: Mapping[str, Any], *, catalogue: Catalogue | None = None) -> Spec:
    """Raises SpecError with every problem; colours are looked up where a catalogue is given."""
    problems: list[Problem] = []
    fields = SPEC_SHAPE.read_fields(data, "", problems)
    if catalogue is not None:
        problems.extend(_colour_problems(fields, catalogue))
    if problems:
        raise SpecError(problems)
    return Spec(**fields)


def refuse_unknown_colours(spec: Spec, catalogue: Catalogue) -> None:
    found = list(_colour_problems(vars(spec), catalogue))
    if found:
        raise SpecError(found)


# --- checks that no single value can answer


def _length_in_range(path: Any, key: str) -> Iterator[Problem]:
    length = path_length(path)
    low, high = c.PATH_M
    if not low <= length <= high:
        yield Problem(
            key, f"the path must be {low:g} to {high:g} m long, and this one is {length:.4g} m"
        )


def _stations_in_order(stations: Sequence[Station], key: str) -> Iterator[Problem]:
    if stations[0].at != 0:
        yield Problem(f"{key}[0][0]", "the first width must be at 0, where the path begins")
    if stations[-1].at != 1:
        last = len(stations) - 1
        yield Problem(f"{key}[{last}][0]", "the last width must be at 1, where the path ends")
    for i, (before, after) in enumerate(pairwise(stations), start=1):
        if after.at <= before.at:
            yield Problem(f"{key}[{i}][0]", "must be further along the path than the one before")


def _adds_to_one(parts: Sequence[BaseColour] | Sequence[Size], key: str) -> Iterator[Problem]:
    whole = sum(part.share for part in parts)
    if abs(whole - 1) > c.SHARE_SLACK:
        yield Problem(key, f"the shares must add up to 1, and these add up to {whole:.4g}")


def _named_once(names: Sequence[object], key: str, field: str) -> Iterator[Problem]:
    for i, name in enumerate(names):
        if name in names[:i]:
            yield Problem(f"{key}[{i}]{field}", "is given twice; put both together")


def _colours_once(parts: Sequence[Any], key: str) -> Iterator[Problem]:
    yield from _named_once([part.colour for part in parts], key, ".colour")


def _base_fits(parts: Sequence[BaseColour], key: str) -> Iterator[Problem]:
    yield from _colours_once(parts, key)
    yield from _adds_to_one(parts, key)


def _sizes_fit(parts: Sequence[Size], key: str) -> Iterator[Problem]:
    yield from _named_once([part.nominal_in for part in parts], key, ".nominal_in")
    yield from _adds_to_one(parts, key)


def _each_once(colours: Sequence[str], key: str) -> Iterator[Problem]:
    yield from _named_once(colours, key, "")


def _inflation_fits(fields: Mapping[str, Any], key: str) -> Iterator[Problem]:
    nominal = fields.get("nominal_in")
    if "inflated_in" not in fields or nominal is None:
        return
    low, high = fields["inflated_in"]
    least = nominal * c.SMALLEST_INFLATION.value
    if low > high:
        message = "the smaller diameter comes first, as in [6, 9]"
    elif high > nominal:
        message = f"a {nominal:g} in balloon cannot be inflated above {nominal:g} in"
    elif low < least:
        message = f"a {nominal:g} in balloon should be inflated to at least {least:.3g} in"
    else:
        return
    yield Problem(f"{key}.inflated_in", message)


def _accent_fits(fields: Mapping[str, Any], key: str) -> Iterator[Problem]:
    yield from _inflation_fits({**fields, "nominal_in": c.ACCENT_NOMINAL_IN}, key)


def _colour_problems(fields: Mapping[str, Any], catalogue: Catalogue) -> Iterator[Problem]:
    nominals = [size.nominal_in for size in fields.get("sizes", ())]
    for i, base in enumerate(fields.get("base", ())):
        yield from catalogue.latex_problems(base.colour, nominals, f"base[{i}].colour")
    for group in ("fillers", "singles"):
        extra = fields.get(group)
        for i, colour in enumerate(extra.colours if extra else ()):
            key = f"{group}.colours[{i}]"
            yield from catalogue.latex_problems(colour, [extra.nominal_in], key)
    for i, accent in enumerate(fields.get("accents", ())):
        key = f"accents[{i}].colour"
        yield from catalogue.latex_problems(accent.colour, [c.ACCENT_NOMINAL_IN], key)
    for i, starburst in enumerate(fields.get("starbursts", ())):
        yield from catalogue.foil_problems(starburst.colour, f"starbursts[{i}].colour")


# --- the shapes

_dimension = Field(Number(*c.DIMENSION_M, "m"))
_diameter = Number(1, c.NOMINAL_IN[1], "in")
_nominal = Number(*c.NOMINAL_IN, "in")
_inflated = Fixed(
    (_diameter, _diameter),
    lambda low, high: (low, high),
    "two inflated diameters in inches, [smallest, largest]",
)
_colour = Text(about="a key of the catalogue")
_colours = Each(_colour, 1, _MOST_COLOURS, _each_once)
_share = Number(0.001, 1, about="a share of 1")

_point = Fixed(
    (Number(*c.POINT_M, "m"),) * 3,
    lambda x, y, z: (x, y, z),
    "a point in metres, [x along the front, y away from the viewer, z up]",
)
_path = OneOf(
    "kind",
    {
        Line.kind: Record(Line, {"length_m": _dimension}),
        Arch.kind: Record(Arch, {"width_m": _dimension, "height_m": _dimension}),
        Posts.kind: Record(Posts, {"width_m": _dimension, "height_m": _dimension}),
        Swag.kind: Record(Swag, {"span_m": _dimension, "sag_m": _dimension}),
        Ring.kind: Record(Ring, {"diameter_m": _dimension}),
        Drape.kind: Record(Drape, {"points_m": Field(Each(_point, 2, 1000))}),
    },
    _length_in_range,
)
_station = Fixed(
    (Number(0, 1, about="how far along the path, 0 to 1"), Number(*c.WIDTH_M, "m")),
    Station,
    "[how far along the path from 0 to 1, width in metres]",
)
_base = Record(BaseColour, {"colour": Field(_colour), "share": Field(_share)})
_size = Record(
    Size,
    {"nominal_in": Field(_nominal), "inflated_in": Field(_inflated), "share": Field(_share)},
    _inflation_fits,
)
_fillers = Record(
    Fillers,
    {
        "nominal_in": Field(_nominal, Fillers.nominal_in),
        "inflated_in": Field(_inflated, Fillers.inflated_in),
        "minis_per_m2": Field(Number(0, 20, "per m2 of face"), Fillers.minis_per_m2),
        "colours": Field(_colours),
    },
    _inflation_fits,
)
_singles = Record(
    Singles,
    {
        "nominal_in": Field(_nominal, Singles.nominal_in),
        "inflated_in": Field(_inflated, Singles.inflated_in),
        "per_m": Field(Number(0, 10, "per m of path"), Singles.per_m),
        "colours": Field(_colours),
    },
    _inflation_fits,
)
_accent = Record(
    Accent,
    {
        "colour": Field(_colour),
        "inflated_in": Field(_inflated, Accent.inflated_in),
        "share": Field(_share),
        "bunch": Field(Whole(3, 5, "balloons"), Accent.bunch),
    },
    _accent_fits,
)
_starburst = Record(
    Starburst, {"colour": Field(_colour), "count": Field(Whole(1, 200, "starbursts"))}
)
_site = Record(
    Site,
    {
        "outdoor": Field(YesNo(), Site.outdoor),
        "height_m": Field(Number(0, 50, "m"), Site.height_m),
        "made_at_c": Field(Number(-10, 45, "degrees Celsius"), Site.made_at_c),
        "site_c": Field(Number(-30, 50, "degrees Celsius"), Site.site_c),
        "gust_mps": Field(Number(0, 60, "m/s"), Site.gust_mps),
        "rain": Field(YesNo(), Site.rain),
    },
)
_travel = Record(
    Travel,
    {
        "distance_km": Field(Number(0, 5000, "km one way"), Travel.distance_km),
        "minutes": Field(Number(0, 2880, "minutes one way"), Travel.minutes),
    },
)

SPEC_SHAPE: Final = Record(
    Spec,
    {
        "version": Field(Choice((1,))),
        "path": Field(_path),
        "width": Field(Each(_station, 2, 200, _stations_in_order)),
        "backing": Field(Choice(tuple(Backing)), Spec.backing),
        "cluster_of": Field(Choice((4, 8)), Spec.cluster_of),
        "pattern": Field(Choice(tuple(Pattern)), Spec.pattern),
        "base": Field(Each(_base, 1, _MOST_COLOURS, _base_fits)),
        "sizes": Field(Each(_size, 1, 6, _sizes_fit)),
        "fillers": Field(_fillers, None),
        "singles": Field(_singles, None),
        "accents": Field(Each(_accent, 0, _MOST_COLOURS, _colours_once), ()),
        "starbursts": Field(Each(_starburst, 0, _MOST_COLOURS, _colours_once), ()),
        "site": Field(_site, Site()),
        "crew": Field(Whole(1, 20, "people"), Spec.crew),
        "travel": Field(_travel, None),
        "confidence": Field(Number(0.5, 0.999, about="chance of enough"), Spec.confidence),
        "seed": Field(Whole(0, 2**31 - 1), Spec.seed),
    },
)

SPEC_SCHEMA: Final[dict[str, Any]] = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "A garland spec, version 1",
    **SPEC_SHAPE.schema(),
}


# --- and back


def spec_to_dict(spec: Spec) -> dict[str, Any]:
    """The spec file again; what was left out and has no value stays left out."""
    return {
        "version": spec.version,
        "path": {"kind": spec.path.kind, **_plain(spec.path)},
        "width": [[station.at, station.width_m] for station in spec.width],
        "backing": spec.backing.value,
        "cluster_of": spec.cluster_of,
        "pattern": spec.pattern.value,
        "base": _plain_each(spec.base),
        "sizes": _plain_each(spec.sizes),
        **({"fillers": _plain(spec.fillers)} if spec.fillers else {}),
        **({"singles": _plain(spec.singles)} if spec.singles else {}),
        "accents": _plain_each(spec.accents),
        "starbursts": _plain_each(spec.starbursts),
        "site": _plain(spec.site),
        "crew": spec.crew,
        **({"travel": _plain(spec.travel)} if spec.travel else {}),
        "confidence": spec.confidence,
        "seed": spec.seed,
    }


def _plain_each(parts: Iterable[object]) -> list[dict[str, Any]]:
    return [_plain(part) for part in parts]


def _plain(part: object) -> dict[str, Any]:
    return {name: _listed(v) for name, v in vars(part).items() if v is not None}


def _listed(value: Any) -> Any:
    return [_listed(entry) for entry in value] if isinstance(value, tuple) else value
