"""A spec as named facts in words, so that two of them can be told apart aloud."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from decor.display import distance_text, length_text
from quoting.estimator import Spec, spec_from_dict
from quoting.estimator.paths import path_length
from quoting.estimator.spec import Arch, Backing, Drape, Line, Posts, Ring, Swag

ColourName = Callable[[str], str]
Fact = tuple[str, str]


def spec_facts(
    spec: Mapping[str, Any] | None, *, units: str, colour_name: ColourName
) -> dict[str, str]:
    """In the order in which one would read them out; empty for a piece not described yet."""
    if spec is None:
        return {}
    read = spec_from_dict(spec)
    return dict(
        (
            *_path_facts(read, units),
            *_body_facts(read, units, colour_name),
            *_extras_facts(read, colour_name),
            *_site_facts(read, units),
            ("people", str(read.crew)),
            ("certainty of spares", f"{read.confidence:.0%}"),
            ("arrangement", str(read.seed)),
        )
    )


def _path_facts(spec: Spec, units: str) -> Iterator[Fact]:
    path = spec.path
    yield "shape", path.kind
    match path:
        case Line(length_m=length):
            yield "length", length_text(length, units)
        case Arch(width_m=width, height_m=height) | Posts(width_m=width, height_m=height):
            yield "width", length_text(width, units)
            yield "height", length_text(height, units)
        case Swag(span_m=span, sag_m=sag):
            yield "span", length_text(span, units)
            yield "sag", length_text(sag, units)
        case Ring(diameter_m=across):
            yield "across", length_text(across, units)
        case Drape():
            yield "length", length_text(path_length(path), units)
            yield "points", " / ".join(_point(point, units) for point in path.points_m)


def _point(point: tuple[float, float, float], units: str) -> str:
    signs = ("-" if at < 0 else "" for at in point)
    return ", ".join(
        f"{sign}{length_text(abs(at), units)}" for sign, at in zip(signs, point, strict=True)
    )


def _body_facts(spec: Spec, units: str, colour_name: ColourName) -> Iterator[Fact]:
    yield (
        "thickness",
        ", ".join(
            f"{length_text(station.width_m, units)} at {station.at:.0%}" for station in spec.width
        ),
    )
    yield "colours", ", ".join(f"{colour_name(part.colour)} {part.share:.0%}" for part in spec.base)
    yield "pattern of colours", spec.pattern.value
    yield (
        "sizes",
        ", ".join(
            f"{size.nominal_in:g}-inch at {_range(size.inflated_in)} {size.share:.0%}"
            for size in spec.sizes
        ),
    )
    yield "back", "flat against a wall" if spec.backing is Backing.FLAT else "free-standing"
    yield "clusters of", str(spec.cluster_of)


def _extras_facts(spec: Spec, colour_name: ColourName) -> Iterator[Fact]:
    def names(keys: tuple[str, ...]) -> str:
        return ", ".join(map(colour_name, keys))

    fillers, singles = spec.fillers, spec.singles
    yield (
        "fillers",
        (
            f"{names(fillers.colours)}, {fillers.nominal_in:g}-inch at "
            f"{_range(fillers.inflated_in)}, {fillers.minis_per_m2:g} a square metre"
            if fillers
            else "none"
        ),
    )
    yield (
        "large singles",
        (
            f"{names(singles.colours)}, {singles.nominal_in:g}-inch at "
            f"{_range(singles.inflated_in)}, {singles.per_m:g} a metre"
            if singles
            else "none"
        ),
    )
    accents = (
        f"{colour_name(accent.colour)} {accent.share:.1%} at {_range(accent.inflated_in)} "
        f"in bunches of {accent.bunch}"
        for accent in spec.accents
    )
    yield "accents", ", ".join(accents) or "none"
    bursts = (f"{burst.count} {colour_name(burst.colour)}" for burst in spec.starbursts)
    yield "starbursts", ", ".join(bursts) or "none"


def _site_facts(spec: Spec, units: str) -> Iterator[Fact]:
    site = spec.site
    yield "place", "outdoors" if site.outdoor else "indoors"
    yield "height of the work", length_text(site.height_m, units)
    yield "warmth", f"made at {site.made_at_c:g} °C, hung at {site.hung_at_c:g} °C"
    yield "gusts", f"{site.gust_mps:g} m/s"
    yield "rain", "yes" if site.rain else "no"
    if spec.travel:
        way = distance_text(spec.travel.distance_km * 1000, units)
        yield "travel", f"{way}, {spec.travel.minutes:g} min"


def _range(inflated_in: tuple[float, float]) -> str:
    low, high = inflated_in
    return f"{low:g} in" if low == high else f"{low:g} to {high:g} in"
