"""The form of a trace, bound to whatever is there so far: what is missing is not yet wrong."""

from math import dist
from typing import Any, Final

from django import forms

from decor.display import length_text
from decor.fields import LengthField
from quoting.estimator import constants as c
from quoting.estimator.tracing import (
    SIZE_M,
    Plane,
    Point,
    Trace,
    TraceError,
    plane_from_length,
    plane_from_rectangle,
    trace,
)
from quoting.models.traced_photo import Known
from quoting.traces.typed import (
    MARKS,
    MOST_TAPS,
    SIZES,
    TAP,
    Typed,
    point_names,
    taps_in,
)
from quoting.traces.words import sentence

PIXELS = "A number of pixels, please."
BOTH = "Give both: how far across, and how far down."
SIZE_MISSING = "Say how large it is."
FEW_TAPS = "Tap at least two points of the path."
MANY_TAPS = f"{MOST_TAPS} points are enough for any path: take out {{more}} of them."
TOO_SHORT_OR_LONG = "The path is {length} long: it must be {least} to {most}."
FAR_OFF = (
    "Point {row} comes out {away} away from what you marked: so near to the horizon of the photo "
    "nothing can be measured."
)
_SIZE_LABELS: Final = {"width": "Width", "height": "Height", "length": "Length"}
_PLAIN: Final = {"class": "form-control", "autocomplete": "off"}
_WORDS: Final = {"corner": "Corner", "end": "End", TAP: "Point"}


class PixelField(forms.FloatField):
    """A place in the photo, in pixels of the stored photo."""

    def __init__(self, *, most: int, label: str) -> None:
        within = f"Between 0 and {most}, please: the photo ends there."
        messages = {"invalid": PIXELS, "min_value": within, "max_value": within}
        super().__init__(
            min_value=0, max_value=most, required=False, label=label, error_messages=messages
        )
        self.widget.attrs["step"] = "any"


class TraceForm(forms.Form):
    """`plane` is there when the marks and the size are, `trace` when the taps are too.

    `points` has by kind and row every point that can be shown, whatever is wrong with it.
    """

    def __init__(self, typed: Typed, *, units: str, photo_px: tuple[int, int]) -> None:
        super().__init__(dict(typed), use_required_attribute=False)
        self.units, self.photo_px = units, photo_px
        self.plane: Plane | None = None
        self.trace: Trace | None = None
        self.points: dict[str, dict[int, Point]] = {}
        known = self.data.get("known")
        self.known = Known(known) if known in Known.values else Known.RECTANGLE
        self.tap_rows = max(MOST_TAPS, taps_in(self.data))
        self.fields["known"] = forms.ChoiceField(
            choices=Known.choices,
            widget=forms.RadioSelect,
            label="What you can measure there",
            required=False,
        )
        self._add_sizes()
        for what, count in MARKS.values():
            self._add_points(what, count)
        self._add_points(TAP, self.tap_rows)

    @property
    def mark(self) -> tuple[str, int]:
        return MARKS[self.known]

    @property
    def taps(self) -> list[Point]:
        return list(self.points[TAP].values())

    def clean(self) -> dict[str, Any]:
        for what, count in self._counts().items():
            self._refuse_halves(what, count)
            self.points[what] = self._whole_points(what, count)
        marks, taps = list(self.points[self.mark[0]].values()), self.taps
        if len(taps) > MOST_TAPS:
            message = MANY_TAPS.format(more=len(taps) - MOST_TAPS)
            self.add_error(point_names(TAP, MOST_TAPS + 1)[0], message)
        sizes = [self.cleaned_data.get(name) for name in SIZES[self.known]]
        if self.errors or len(marks) < self.mark[1] or None in sizes:
            return self.cleaned_data
        try:
            self.plane = self._plane(marks, sizes)
            if len(taps) >= 2:
                self.trace = self._traced(self.plane, taps)
        except TraceError as error:
            self._refuse(error)
        return self.cleaned_data

    def refuse_unfinished(self) -> None:
        """What is not there yet becomes an error beside its field."""
        what, count = self.mark
        for row in range(1, count + 1):
            name = point_names(what, row)[0]
            if self.cleaned_data.get(name) is None and not self._is_wrong(what, row):
                self.add_error(name, f"Mark {what} {row} on the photo.")
        for name in SIZES[self.known]:
            if self.cleaned_data.get(name) is None and name not in self.errors:
                self.add_error(name, SIZE_MISSING)
        if len(self.points[TAP]) < 2 and not self._is_wrong(TAP, 1):
            self.add_error(point_names(TAP, 1)[0], FEW_TAPS)

    def _counts(self) -> dict[str, int]:
        what, count = self.mark
        return {what: count, TAP: self.tap_rows}

    def _refuse_halves(self, what: str, count: int) -> None:
        for row in range(1, count + 1):
            names = point_names(what, row)
            given = [bool(self.data.get(name)) for name in names]
            if any(given) and not all(given):
                self.add_error(names[given.index(False)], BOTH)

    def _whole_points(self, what: str, count: int) -> dict[int, Point]:
        found = {}
        for row in range(1, count + 1):
            across, down = (self.cleaned_data.get(name) for name in point_names(what, row))
            if across is not None and down is not None:
                found[row] = (across, down)
        return found

    def _is_wrong(self, what: str, row: int) -> bool:
        return any(name in self.errors for name in point_names(what, row))

    def _plane(self, marks: list[Point], sizes: list[float]) -> Plane:
        if self.known is Known.LENGTH:
            return plane_from_length(marks, length_m=sizes[0], photo_px=self.photo_px)
        return plane_from_rectangle(
            marks, width_m=sizes[0], height_m=sizes[1], photo_px=self.photo_px
        )

    def _traced(self, plane: Plane, taps: list[Point]) -> Trace | None:
        """Judges lengths itself, to say them in the business's units."""
        points = plane.to_metres(taps)
        least, most = c.PATH_M
        for row, point in enumerate(points, start=1):
            away = max(map(abs, point))
            if away > most:
                message = FAR_OFF.format(row=row, away=length_text(away, self.units))
                self.add_error(point_names(TAP, row)[0], message)
                return None
        length = sum(map(dist, points, points[1:]))
        if not least <= length <= most:
            said = (length_text(m, self.units) for m in (length, least, most))
            message = TOO_SHORT_OR_LONG.format(
                **dict(zip(("length", "least", "most"), said, strict=True))
            )
            self.add_error(point_names(TAP, len(taps))[0], message)
            return None
        return trace(plane, taps)

    def _refuse(self, error: TraceError) -> None:
        for problem in error.problems:
            said = problem.message.replace("tap ", "point ")  # as the rows are named here
            self.add_error(_field_of(problem.key, self.mark[0]), sentence(said))

    def _add_sizes(self) -> None:
        for known, names in SIZES.items():
            for name in names:
                field = self._length() if known is self.known else _unjudged()
                field.label = _SIZE_LABELS[name]
                field.widget.attrs |= {"aria-describedby": f"note-{name}", **_PLAIN}
                self.fields[name] = field

    def _length(self) -> LengthField:
        return LengthField(units=self.units, min_m=SIZE_M[0], max_m=SIZE_M[1], required=False)

    def _add_points(self, what: str, count: int) -> None:
        is_judged = what in (TAP, self.mark[0])
        for row in range(1, count + 1):
            directions = ("across", "down")
            for name, way, most in zip(
                point_names(what, row), directions, self.photo_px, strict=True
            ):
                label = f"{_WORDS[what]} {row}, {way}"
                field = PixelField(most=most, label=label) if is_judged else _unjudged(label)
                field.widget.attrs |= {"aria-describedby": f"note-{what}_{row}", **_PLAIN}
                self.fields[name] = field


def _unjudged(label: str = "") -> forms.Field:
    """Kept for when it is chosen again, so nothing in it is wrong now."""
    return forms.Field(required=False, label=label, widget=forms.TextInput())


def _field_of(key: str, mark: str) -> str:
    """`corners[2]` is the third corner's field; what concerns them all stands beside the first."""
    name, _, rest = key.partition("[")
    what = TAP if name == "taps" else mark
    row = int(rest.rstrip("]")) + 1 if rest else 1
    return point_names(what, row)[0]
