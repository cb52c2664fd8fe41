"""The form of one piece. Every field may stay empty but the palette: empty means the usual."""

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Any, Final

from django import forms
from django.utils.datastructures import MultiValueDict

from decor.fields import LengthField, PercentField
from quoting.estimator import constants as c
from quoting.estimator.spec import Pattern
from quoting.pictures.drawing import FIGURES, FIRST_FIGURE
from quoting.pieces import checks
from quoting.pieces.defaults import (
    FILLER_NOMINAL_IN,
    FILLERS,
    FIRST_FULLNESS,
    FIRST_SHAPE,
    FULLNESS,
    PATH_KINDS,
    POINTS_FIELD,
    SHAPES,
    SINGLE_NOMINAL_IN,
    SINGLES,
    STATION_ROWS,
    ShapePreset,
)
from quoting.pieces.measures import GustField, InchesField, PointsField, TemperatureField
from quoting.pieces.shelf import Shelf, ShelfColour

Typed = Mapping[str, str | list[str]]

# Fields of which several values may be ticked.
SEVERAL: Final = ("base", "accents", "filler_colours", "single_colours")
SMALLEST_DIMENSION_M: Final = 0.05
MOST_HEIGHT_M: Final = 50.0
MOST_STARBURSTS: Final = 200
MOST_CREW: Final = 20
SMALLEST_SHARE_BP: Final = 10

# As a browser sends the value of its own control for a day and an hour.
WHEN: Final = "%Y-%m-%dT%H:%M"

CHOOSE_A_COLOUR = "Choose at least one colour."
CHOOSE_ONE_OF_THESE = "Choose one of these."
NOT_ON_THE_SHELF = "{name} is not on the shelf any more: take it out or choose another."

_choice = partial(
    forms.ChoiceField, required=False, error_messages={"invalid_choice": CHOOSE_ONE_OF_THESE}
)


class WholeField(forms.IntegerField):
    """A whole number; out of range it says the range, not half of it."""

    def __init__(self, *, low: int, high: int, **kwargs: Any) -> None:
        wrong = f"A whole number between {low} and {high}, please."
        messages = dict.fromkeys(("invalid", "min_value", "max_value"), wrong)
        super().__init__(min_value=low, max_value=high, error_messages=messages, **kwargs)


class ColoursField(forms.MultipleChoiceField):
    """Ticked colours; one that has left the shelf is named, not dropped."""

    def __init__(self, colours: Sequence[ShelfColour], **kwargs: Any) -> None:
        choices = [(colour.key, colour.name) for colour in colours]
        super().__init__(choices=choices, widget=forms.CheckboxSelectMultiple, **kwargs)

    def validate(self, value: list[str]) -> None:
        if self.required and not value:
            raise forms.ValidationError(CHOOSE_A_COLOUR, code="required")
        for key in value:
            if not self.valid_value(key):
                raise forms.ValidationError(NOT_ON_THE_SHELF.format(name=key), code="unknown")


class PieceForm(forms.Form):
    """Always bound: to what was typed, however little. Fields of what is not chosen are kept
    as they are and not judged, so that going back to a shape finds its size again."""

    title = forms.CharField(required=False, max_length=120, label="Name of the piece")
    shape = _choice(choices=[(shape.key, shape.label) for shape in SHAPES.values()])
    backing = _choice(
        label="What is behind it",
        choices=[
            ("", "As usual"),
            ("free", "Nothing: seen all around"),
            ("flat", "A wall or window: flat"),
        ],
    )
    fullness = _choice(choices=[(f.key, f.label) for f in FULLNESS.values()])
    pattern = _choice(
        label="How the colours follow each other",
        choices=[
            ("", "Evenly mixed"),
            (Pattern.BANDED.value, "In bands"),
            (Pattern.BLEND.value, "Blending from one to the next"),
        ],
    )
    colour_order = forms.CharField(required=False, max_length=300, label="Order of the colours")
    accent_bunch = _choice(
        label="Accents in bunches of", choices=[("", "4"), ("3", "3"), ("5", "5")]
    )
    cluster_of = _choice(
        label="Balloons in a cluster", choices=[("", "8 (four pairs)"), ("4", "4 (two pairs)")]
    )
    fillers = _choice(
        label="Small fillers in the dips",
        choices=[("", "As usual"), *((a.key, a.label) for a in FILLERS.values())],
    )
    singles = _choice(
        label="Large single balloons",
        choices=[("", "As usual")] + [(a.key, a.label) for a in SINGLES.values()],
    )
    outdoor = _choice(
        label="Where it hangs",
        choices=[("", "As the place says"), ("yes", "Outdoors"), ("no", "Indoors")],
    )
    rain = forms.BooleanField(required=False, label="It may rain while it is put up")
    forecast_source = forms.CharField(required=False, max_length=80, label="Whose forecast it is")
    forecast_read = forms.DateTimeField(
        required=False,
        label="When you read it",
        input_formats=[WHEN],
        widget=forms.DateTimeInput({"type": "datetime-local"}, format=WHEN),
        error_messages={"invalid": "Give a day and an hour."},
    )
    figure = _choice(
        label="Beside it",
        choices=[("" if key == FIRST_FIGURE else key, name) for key, name in FIGURES.items()],
    )
    crew = WholeField(low=1, high=MOST_CREW, required=False, label="People working on it")
    confidence = _choice(
        label="Spares: be this sure there are enough",
        choices=[("", "95 %"), ("0.9", "90 %"), ("0.99", "99 %")],
    )

    def __init__(self, typed: Typed, *, units: str, shelf: Shelf) -> None:
        super().__init__(_as_posted(typed), use_required_attribute=False)
        self.units, self.shelf = units, shelf
        self.shape: ShapePreset = SHAPES.get(self.data.get("shape", ""), SHAPES[FIRST_SHAPE])
        self.fullness_key = _known(self.data.get("fullness"), FULLNESS, FIRST_FULLNESS)
        self._add_lengths()
        self._add_colours()
        self._add_sizes()
        self._add_site()
        self._describe_fields()

    def ticked(self, name: str) -> list[str]:
        return list(dict.fromkeys(self.data.getlist(name)))

    def clean(self) -> dict[str, Any]:
        for problem in checks.problems(self):
            self.add_error(problem.field, problem.message)
        return self.cleaned_data

    # --- fields that depend on the units, the shelf and what is chosen

    def _add_lengths(self) -> None:
        for kind in PATH_KINDS.values():
            is_chosen = kind.key == self.shape.kind
            for dimension in kind.dimensions:
                least = c.PATH_M[0] if kind.key == "line" else SMALLEST_DIMENSION_M
                field = self._length(least, c.PATH_M[1]) if is_chosen else _unjudged()
                field.label = dimension.label
                self.fields[dimension.field] = field
        is_drape = self.shape.kind == "drape"
        points = PointsField(units=self.units, max_m=c.PATH_M[1], required=False)
        self.fields[POINTS_FIELD] = points if is_drape else _unjudged(forms.Textarea({"rows": 5}))
        self.fields[POINTS_FIELD].label = "Points, one a line: across, up"
        self.fields["width_ends"] = self._length(*c.WIDTH_M, label="Width at the ends")
        self.fields["width_middle"] = self._length(*c.WIDTH_M, label="Width in the middle")
        for row in range(STATION_ROWS):
            self.fields[f"station_{row}_at"] = PercentField(required=False, label="How far along")
            self.fields[f"station_{row}_width"] = self._length(*c.WIDTH_M, label="Width there")

    def _add_colours(self) -> None:
        self.fields["base"] = ColoursField(self.shelf.latex, label="Colours")
        self.fields["accents"] = ColoursField(self.shelf.latex, required=False, label="Accents")
        for group, prefix in (("base", "share"), ("accents", "accent_share")):
            ticked = self.ticked(group)
            for key in {colour.key: None for colour in self.shelf.latex} | dict.fromkeys(ticked):
                field = _share() if key in ticked else _unjudged()
                field.label = f"{self.shelf.name_of(key)}: share in per cent"
                self.fields[f"{prefix}_{key}"] = field
        for name, nominal, label in (
            ("filler_colours", FILLER_NOMINAL_IN, "Colours of the fillers"),
            ("single_colours", SINGLE_NOMINAL_IN, "Colours of the large singles"),
        ):
            colours = self.shelf.latex_in(nominal)
            self.fields[name] = ColoursField(colours, required=False, label=label)
        for colour in self.shelf.foil:
            self.fields[f"burst_{colour.key}"] = WholeField(
                low=0, high=MOST_STARBURSTS, required=False, label=f"Starbursts: {colour.name}"
            )

    def _add_sizes(self) -> None:
        for nominal in self.shelf.nominals:
            size, word = f"{nominal:g}", f"{nominal:g}-inch"
            self.fields[f"size_share_{size}"] = _share(label=f"{word}: share in per cent")
            for end, label in (("low", "smallest"), ("high", "largest")):
                self.fields[f"size_{end}_{size}"] = _inflated(nominal, label=f"{word}: {label}")
        self.fields["accent_low"] = _inflated(c.ACCENT_NOMINAL_IN, label="Accents: smallest")
        self.fields["accent_high"] = _inflated(c.ACCENT_NOMINAL_IN, label="Accents: largest")

    def _add_site(self) -> None:
        temperature = partial(TemperatureField, units=self.units, required=False)
        height = self._length(0, MOST_HEIGHT_M, label="Highest point above the ground")
        self.fields["height"] = height
        self.fields["made_at"] = temperature(
            label="Temperature where it is made", min_c=-10, max_c=45
        )
        self.fields["site_temperature"] = temperature(
            label="Temperature where it hangs", min_c=-30, max_c=50
        )
        self.fields["gust"] = GustField(
            units=self.units, max_mps=60, required=False, label="Strongest gust in the forecast"
        )

    def _length(self, low_m: float, high_m: float, **kwargs: Any) -> LengthField:
        return LengthField(units=self.units, min_m=low_m, max_m=high_m, required=False, **kwargs)

    def _describe_fields(self) -> None:
        for name, field in self.fields.items():
            field.widget.attrs["aria-describedby"] = f"note-{name}"
            if isinstance(field.widget, forms.Select):
                field.widget.attrs["class"] = "form-select"
            elif not isinstance(field.widget, forms.CheckboxInput | forms.CheckboxSelectMultiple):
                field.widget.attrs["class"] = "form-control"
                field.widget.attrs["autocomplete"] = "off"


def _as_posted(typed: Typed) -> MultiValueDict:
    return MultiValueDict(
        {name: value if isinstance(value, list) else [value] for name, value in typed.items()}
    )


def _known(value: str | None, table: Mapping[str, Any], otherwise: str) -> str:
    return value if value in table else otherwise


def _unjudged(widget: forms.Widget | None = None) -> forms.Field:
    """Kept for when it is chosen again, so nothing in it is wrong now."""
    return forms.Field(required=False, widget=widget or forms.TextInput())


def _share(**kwargs: Any) -> PercentField:
    return PercentField(min_bp=SMALLEST_SHARE_BP, required=False, **kwargs)


def _inflated(nominal_in: float, **kwargs: Any) -> InchesField:
    least = round(nominal_in * c.SMALLEST_INFLATION.value + 0.0499, 1)
    field = InchesField(min_in=least, max_in=nominal_in, required=False, **kwargs)
    field.widget.attrs["inputmode"] = "decimal"
    return field
