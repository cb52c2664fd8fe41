"""The form as the page lays it out: pictures to choose, circles to tick, rows to fill."""

from collections.abc import Container
from dataclasses import dataclass

from django.forms import BoundField

from decor.display import length_text
from quoting.pieces import defaults as d
from quoting.pieces.form import PieceForm
from quoting.pieces.shelf import ShelfColour

_UNKNOWN_HEX = "#ffffff"
# Folds that begin closed, and how the names of their fields begin.
_FOLDS = {
    "stations": ("station_",),
    "order": ("pattern", "colour_order"),
    "accents": ("accent",),
    "filler_colours": ("filler_colours", "single_colours"),
    "sizes": ("size_",),
    "extras": ("filler", "single", "size_", "crew", "cluster_of", "confidence", "title"),
    "place": (
        "outdoor",
        "height",
        "backing",
        "made_at",
        "site_temperature",
        "gust",
        "rain",
        "forecast_",
    ),
}


@dataclass(frozen=True, kw_only=True)
class ShapeCard:
    key: str
    label: str
    kind: str
    drawing: str
    is_on: bool


@dataclass(frozen=True)
class SizeFields:
    kind: str
    fields: tuple[BoundField, ...]


@dataclass(frozen=True, kw_only=True)
class FullnessCard:
    key: str
    label: str
    about: str
    widths: str
    is_on: bool


@dataclass(frozen=True, kw_only=True)
class ColourRow:
    """`field` is its share or its count, where it has one."""

    key: str
    name: str
    hex: str
    is_on: bool
    field: BoundField | None = None


@dataclass(frozen=True)
class StationRow:
    at: BoundField
    width: BoundField


@dataclass(frozen=True)
class BalloonSizeRow:
    label: str
    share: BoundField
    low: BoundField
    high: BoundField


def shape_cards(chosen: str = "") -> list[ShapeCard]:
    return [
        ShapeCard(
            key=shape.key,
            label=shape.label,
            kind=shape.kind,
            drawing=f"quoting/pieces/drawings/{shape.key}.html",
            is_on=shape.key == chosen,
        )
        for shape in d.SHAPES.values()
    ]


class FormRows:
    """What the templates loop over."""

    def __init__(self, form: PieceForm, *, plenty: Container[str] = frozenset()) -> None:
        """`plenty`: the colours of which there is enough, by key. They stand first."""
        self._form, self._plenty = form, plenty

    def open_folds(self) -> set[str]:
        """Those in which something was typed: what is wrong must be seen, and what is set too."""
        names = [name for name in self._form.fields if self._form.data.get(name)]
        return {fold for fold, starts in _FOLDS.items() if any(n.startswith(starts) for n in names)}

    def shapes(self) -> list[ShapeCard]:
        return shape_cards(self._form.shape.key)

    def sizes_by_kind(self) -> list[SizeFields]:
        return [
            SizeFields(kind.key, tuple(self._form[dim.field] for dim in kind.dimensions))
            for kind in d.PATH_KINDS.values()
            if kind.dimensions
        ]

    def fullness(self) -> list[FullnessCard]:
        units = self._form.units
        return [
            FullnessCard(
                key=fullness.key,
                label=fullness.label,
                about=fullness.about,
                widths=" to ".join(
                    length_text(usual.in_metres(units), units)
                    for usual in (fullness.ends, fullness.middle)
                ),
                is_on=fullness.key == self._form.fullness_key,
            )
            for fullness in d.FULLNESS.values()
        ]

    def stations(self) -> list[StationRow]:
        form = self._form
        return [
            StationRow(form[f"station_{row}_at"], form[f"station_{row}_width"])
            for row in range(d.STATION_ROWS)
        ]

    def base(self) -> list[ColourRow]:
        return self._ticks("base", self._form.shelf.latex, share="share")

    def accents(self) -> list[ColourRow]:
        return self._ticks("accents", self._form.shelf.latex, share="accent_share")

    def filler_colours(self) -> list[ColourRow]:
        return self._ticks("filler_colours", self._form.shelf.latex_in(d.FILLER_NOMINAL_IN))

    def single_colours(self) -> list[ColourRow]:
        return self._ticks("single_colours", self._form.shelf.latex_in(d.SINGLE_NOMINAL_IN))

    def starbursts(self) -> list[ColourRow]:
        form = self._form
        return [
            ColourRow(
                key=colour.key,
                name=colour.name,
                hex=colour.hex,
                is_on=bool(form.data.get(f"burst_{colour.key}")),
                field=form[f"burst_{colour.key}"],
            )
            for colour in form.shelf.foil
        ]

    def balloon_sizes(self) -> list[BalloonSizeRow]:
        form = self._form
        return [
            BalloonSizeRow(
                f"{size}-inch", *(form[f"size_{part}_{size}"] for part in ("share", "low", "high"))
            )
            for size in (f"{nominal:g}" for nominal in form.shelf.nominals)
        ]

    def _ticks(
        self, group: str, colours: tuple[ShelfColour, ...], share: str = ""
    ) -> list[ColourRow]:
        """The colours offered, and those ticked that nobody knows, so that they can be unticked."""
        ticked = self._form.ticked(group)
        known = {colour.key: colour for colour in colours}
        strangers = [ShelfColour(key, key, _UNKNOWN_HEX) for key in ticked if key not in known]
        return [
            ColourRow(
                key=colour.key,
                name=colour.name,
                hex=colour.hex,
                is_on=colour.key in ticked,
                field=self._form[f"{share}_{colour.key}"] if share else None,
            )
            for colour in (*sorted(colours, key=self._is_scarce), *strangers)
        ]

    def _is_scarce(self, colour: ShelfColour) -> bool:
        return colour.key not in self._plenty
