"""From a form's values to the spec file's dict, and back from the spec's keys to the fields."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from quoting.pieces import defaults as d
from quoting.pieces.checks import WHOLE_BP, order_names
from quoting.pieces.shelf import Shelf

_LAST_PART = re.compile(r"(\.\w+|\[\d+\])$")
_ENDS_AT, _MIDDLE_AT = (0, WHOLE_BP), WHOLE_BP // 2


@dataclass(frozen=True)
class BuiltSpec:
    """`fields` says which form field each key of the spec came from."""

    data: dict[str, Any]
    fields: Mapping[str, str]

    def field_of(self, key: str) -> str | None:
        """The field of this key, else of the nearest key above it."""
        while key:
            if key in self.fields:
                return self.fields[key]
            shorter = _LAST_PART.sub("", key)
            key = "" if shorter == key else shorter
        return None


@dataclass(frozen=True, kw_only=True)
class Around:
    """What an empty field is filled from: units, the shelf, and where the job is."""

    units: str
    shelf: Shelf
    site_is_outdoor: bool = False


def build_spec(values: Mapping[str, Any], around: Around) -> BuiltSpec:
    """`values` as the form cleaned them; a missing or empty one takes the usual."""
    return _Building(values, around).built()


class _Building:
    def __init__(self, values: Mapping[str, Any], around: Around) -> None:
        self.values, self.around = values, around
        self.shape = d.SHAPES[values.get("shape") or d.FIRST_SHAPE]
        self.fullness = d.FULLNESS[values.get("fullness") or d.FIRST_FULLNESS]
        self.base_keys = ordered_colours(values, around.shelf)
        self.fields: dict[str, str] = {}

    def built(self) -> BuiltSpec:
        width = self._width()
        data = {
            "version": 1,
            "path": self._path(),
            "width": width,
            "backing": self._or_usual("backing", self.shape.backing),
            "cluster_of": int(self._or_usual("cluster_of", d.CLUSTER_OF)),
            "pattern": self._or_usual("pattern", "spread"),
            "base": self._base(),
            "sizes": self._sizes(),
            **self._extra("fillers", self._fillers()),
            **self._extra("singles", self._singles(width)),
            "accents": self._accents(),
            "starbursts": self._starbursts(),
            "site": self._site(),
            "crew": self._or_usual("crew", d.CREW),
            "confidence": float(self._or_usual("confidence", d.CONFIDENCE)),
        }
        self.fields |= {"backing": "backing", "cluster_of": "cluster_of", "crew": "crew"}
        return BuiltSpec(data, self.fields)

    def _or_usual(self, field: str, usual: Any) -> Any:
        value = self.values.get(field)
        return usual if value in (None, "") else value

    @staticmethod
    def _extra(name: str, part: dict[str, Any] | None) -> dict[str, Any]:
        return {name: part} if part else {}

    def _path(self) -> dict[str, Any]:
        kind = d.PATH_KINDS[self.shape.kind]
        if kind.key == "drape":
            self.fields["path"] = d.POINTS_FIELD
            return {"kind": kind.key, "points_m": [list(point) for point in self._points()]}
        self.fields["path"] = kind.dimensions[0].field
        usual = d.usual_dimensions(self.shape, self.around.units)
        path: dict[str, Any] = {"kind": kind.key}
        for dimension in kind.dimensions:
            path[dimension.spec_key] = self._or_usual(dimension.field, usual[dimension.field])
            self.fields[f"path.{dimension.spec_key}"] = dimension.field
        return path

    def _points(self) -> Sequence[Sequence[float]]:
        return self._or_usual(d.POINTS_FIELD, d.usual_points(self.around.units))

    def _width(self) -> list[list[float]]:
        units = self.around.units
        ends = self._or_usual("width_ends", self.fullness.ends.in_metres(units))
        middle = self._or_usual("width_middle", self.fullness.middle.in_metres(units))
        stations = dict.fromkeys(_ENDS_AT, (ends, "width_ends"))
        stations[_MIDDLE_AT] = (middle, "width_middle")
        stations |= dict(self._own_stations())
        for i, at in enumerate(sorted(stations)):
            self.fields[f"width[{i}]"] = stations[at][1]
        self.fields["width"] = "width_ends"
        return [[at / WHOLE_BP, stations[at][0]] for at in sorted(stations)]

    def _own_stations(self) -> Iterator[tuple[int, tuple[float, str]]]:
        for row in range(d.STATION_ROWS):
            at, width = (self.values.get(f"station_{row}_{part}") for part in ("at", "width"))
            if at is not None and width is not None:
                yield at, (width, f"station_{row}_width")

    def _base(self) -> list[dict[str, Any]]:
        shares = base_shares(self.values, self.base_keys)
        self.fields["base"] = "base"
        for i, key in enumerate(self.base_keys):
            self.fields[f"base[{i}]"] = f"share_{key}"
        return [{"colour": key, "share": shares[key] / WHOLE_BP} for key in self.base_keys]

    def _sizes(self) -> list[dict[str, Any]]:
        mix = self._typed_mix() or d.usual_mix(
            self.fullness.key, self.around.shelf.common_nominals(self.base_keys)
        )
        self.fields["sizes"] = f"size_share_{next(iter(mix)):g}"
        return [self._size(i, nominal, share) for i, (nominal, share) in enumerate(mix.items())]

    def _typed_mix(self) -> dict[float, float]:
        nominals = self.around.shelf.nominals
        typed = {nominal: self.values.get(f"size_share_{nominal:g}") for nominal in nominals}
        return {nominal: share / WHOLE_BP for nominal, share in typed.items() if share is not None}

    def _size(self, i: int, nominal: float, share: float) -> dict[str, Any]:
        low, high = d.usual_inflation(nominal)
        low = self._or_usual(f"size_low_{nominal:g}", low)
        high = self._or_usual(f"size_high_{nominal:g}", high)
        self.fields[f"sizes[{i}]"] = f"size_share_{nominal:g}"
        self.fields[f"sizes[{i}].inflated_in"] = f"size_low_{nominal:g}"
        self.fields[f"sizes[{i}].inflated_in[1]"] = f"size_high_{nominal:g}"
        return {"nominal_in": nominal, "inflated_in": [low, high], "share": share}

    def _fillers(self) -> dict[str, Any] | None:
        amount = d.FILLERS[self.values.get("fillers") or d.FIRST_FILLERS]
        nominal = d.FILLER_NOMINAL_IN
        colours = self._colours_or_base("filler_colours", nominal)
        if not amount.number or not colours:
            return None
        self.fields["fillers"] = "filler_colours"
        return {
            "nominal_in": nominal,
            "inflated_in": list(d.usual_inflation(nominal)),
            "minis_per_m2": amount.number,
            "colours": colours,
        }

    def _singles(self, width: list[list[float]]) -> dict[str, Any] | None:
        amount = d.SINGLES[self.values.get("singles") or d.usual_singles(self.fullness.key, width)]
        nominal = d.SINGLE_NOMINAL_IN
        colours = self._colours_or_base("single_colours", nominal)
        if not amount.number or not colours:
            return None
        self.fields["singles"] = "singles"
        self.fields["singles.colours"] = "single_colours"
        return {
            "nominal_in": nominal,
            "inflated_in": list(d.usual_inflation(nominal)),
            "per_m": amount.number,
            "colours": colours,
        }

    def _colours_or_base(self, field: str, nominal: float) -> list[str]:
        """The colours ticked, else those of the base that come in this size."""
        if ticked := self.values.get(field):
            return list(ticked)
        stocked = {colour.key for colour in self.around.shelf.latex_in(nominal)}
        return [key for key in self.base_keys if key in stocked]

    def _accents(self) -> list[dict[str, Any]]:
        low, high = d.ACCENT_INFLATED_IN
        inflated = [self._or_usual("accent_low", low), self._or_usual("accent_high", high)]
        keys = list(self.values.get("accents") or ())
        self.fields["accents"] = "accents"
        for i, key in enumerate(keys):
            self.fields[f"accents[{i}]"] = f"accent_share_{key}"
            self.fields[f"accents[{i}].inflated_in"] = "accent_low"
        return [
            {
                "colour": key,
                "inflated_in": inflated,
                "share": self._accent_share(key),
                "bunch": int(self._or_usual("accent_bunch", d.ACCENT_BUNCH)),
            }
            for key in keys
        ]

    def _accent_share(self, key: str) -> float:
        typed = self.values.get(f"accent_share_{key}")
        return d.ACCENT_SHARE if typed is None else typed / WHOLE_BP

    def _starbursts(self) -> list[dict[str, Any]]:
        counts = {c.key: self.values.get(f"burst_{c.key}") for c in self.around.shelf.foil}
        wanted = {key: count for key, count in counts.items() if count}
        for i, key in enumerate(wanted):
            self.fields[f"starbursts[{i}]"] = f"burst_{key}"
        return [{"colour": key, "count": count} for key, count in wanted.items()]

    def _site(self) -> dict[str, Any]:
        outdoor = self.values.get("outdoor")
        made_at = self._or_usual("made_at", d.MADE_AT_C)
        keys = {
            "outdoor": "outdoor",
            "height_m": "height",
            "made_at_c": "made_at",
            "site_c": "site_temperature",
            "gust_mps": "gust",
            "rain": "rain",
        }
        self.fields |= {f"site.{key}": field for key, field in keys.items()}
        return {
            "outdoor": outdoor == "yes" if outdoor else self.around.site_is_outdoor,
            "height_m": self._or_usual("height", 0.0),
            "made_at_c": made_at,
            "site_c": self._or_usual("site_temperature", made_at),
            "gust_mps": self._or_usual("gust", 0.0),
            "rain": bool(self.values.get("rain")),
        }


def base_shares(values: Mapping[str, Any], keys: Sequence[str]) -> dict[str, float]:
    """Basis points of each colour: what is typed, and an equal part of the rest."""
    typed = {key: values.get(f"share_{key}") for key in keys}
    without = [key for key, share in typed.items() if share is None]
    left = WHOLE_BP - sum(share for share in typed.values() if share is not None)
    each = left / len(without) if without else 0.0
    return {key: each if share is None else share for key, share in typed.items()}


def ordered_colours(values: Mapping[str, Any], shelf: Shelf) -> list[str]:
    """In the order that was asked for, then the rest as the shelf has them."""
    on_shelf = [colour.key for colour in shelf.latex]
    keys = sorted(values.get("base") or (), key=on_shelf.index)
    wanted = [name.casefold() for name in order_names(values.get("colour_order") or "")]

    def place(key: str) -> int:
        name = shelf.name_of(key).casefold()
        return wanted.index(name) if name in wanted else len(wanted)

    return sorted(keys, key=place)
