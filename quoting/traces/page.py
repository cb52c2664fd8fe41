"""What the page of a trace shows, in words and rows."""

from collections.abc import Iterator
from dataclasses import dataclass

from django.forms import BoundField

from decor.display import METRES_PER_INCH, length_text
from decor.models import JobPhoto
from decor.models.business import Units
from quoting.estimator.tracing import Point, Trace
from quoting.models.traced_photo import Known
from quoting.pieces.notes import Note
from quoting.traces.form import TraceForm
from quoting.traces.typed import MARKS, SIZES, TAP, point_names
from quoting.traces.words import sentence

# Two standard deviations: nineteen times in twenty, where errors are as good as normal.
_SURE_SD = 2
_SPARE_ROWS = 5
_RULER_STEPS = 8

MARK_NEXT = {
    Known.RECTANGLE: "Tap corner {row} of something flat whose size you know, such as a door.",
    Known.LENGTH: "Tap end {row} of something whose length you know.",
}
TYPE_SIZE = "Now say how large it is."
TAP_FIRST = "Now tap where the garland begins."
TAP_MORE = "Tap on along the path, to where the garland ends."
MEND = "Mend what is marked, and the length follows."


@dataclass(frozen=True, kw_only=True)
class PointRow:
    """`name` is that of its note; a `spare` row is beyond those that one is likely to need."""

    label: str
    name: str
    across: BoundField
    down: BoundField
    is_spare: bool = False


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A point as the server draws it, for pages without scripts."""

    what: str
    row: int
    x: float
    y: float


@dataclass(frozen=True, kw_only=True)
class Problem:
    about: str
    field_id: str
    message: str


@dataclass(frozen=True, kw_only=True)
class Readout:
    """Either what the path is, or what to do next."""

    todo: str = ""
    length: str = ""
    give_or_take: str = ""
    extent: str = ""
    cautions: tuple[str, ...] = ()


class TracePage:
    """What the templates loop over."""

    def __init__(self, form: TraceForm, photo: JobPhoto) -> None:
        self._form, self._photo = form, photo

    @property
    def known(self) -> str:
        return self._form.known.value

    def corner_rows(self) -> list[PointRow]:
        return list(self._rows(*MARKS[Known.RECTANGLE]))

    def end_rows(self) -> list[PointRow]:
        return list(self._rows(*MARKS[Known.LENGTH]))

    def tap_rows(self) -> list[PointRow]:
        used = max(self._form.points[TAP], default=0)
        return list(self._rows(TAP, self._form.tap_rows, spare_from=used + _SPARE_ROWS))

    def marks(self) -> list[Mark]:
        return [
            Mark(what=what, row=row, x=x, y=y)
            for what, points in self._form.points.items()
            for row, (x, y) in points.items()
        ]

    def outline(self) -> str:
        """The marks joined, in the order that the estimator has found for them."""
        plane = self._form.plane
        return _joined(plane.marks_px if plane else ())

    def path(self) -> str:
        return _joined(self._form.taps)

    def ruler(self) -> "Ruler":
        return Ruler.of(self._photo)

    def notes(self) -> dict[str, Note]:
        """By name of a size, or of both numbers of a point."""
        named = {name: (name,) for names in SIZES.values() for name in names}
        rows = [*self.corner_rows(), *self.end_rows(), *self.tap_rows()]
        named |= {row.name: (row.across.name, row.down.name) for row in rows}
        return {name: self._note(fields) for name, fields in named.items()}

    def problems(self) -> list[Problem]:
        form = self._form
        return [
            Problem(
                about=self._about(name),
                field_id=form[name].id_for_label or f"{form[name].auto_id}_0",
                message=message,
            )
            for name, messages in form.errors.items()
            for message in messages
        ]

    def readout(self) -> Readout:
        if self._form.trace:
            return readout_of(self._form.trace, self._form.units)
        if self._form.errors:
            return Readout(todo=MEND)
        return Readout(todo=self._next())

    def _next(self) -> str:
        form = self._form
        what, count = form.mark
        for row in range(1, count + 1):
            if row not in form.points[what]:
                return MARK_NEXT[form.known].format(row=row)
        if form.plane is None:
            return TYPE_SIZE
        return TAP_MORE if form.taps else TAP_FIRST

    def _about(self, name: str) -> str:
        """`Corner 2, down` is about the corner."""
        return self._form.fields[name].label.partition(",")[0]

    def _rows(self, what: str, count: int, *, spare_from: int = 1000) -> Iterator[PointRow]:
        for row in range(1, count + 1):
            across, down = (self._form[name] for name in point_names(what, row))
            yield PointRow(
                label=self._about(across.name),
                name=f"{what}_{row}",
                across=across,
                down=down,
                is_spare=row > spare_from,
            )

    def _note(self, fields: tuple[str, ...]) -> Note:
        errors = [error for field in fields for error in self._form.errors.get(field, ())]
        return Note(" ".join(dict.fromkeys(errors)), is_error=bool(errors))


@dataclass(frozen=True, kw_only=True)
class Ruler:
    """Round numbers of pixels along two sides, for those who type where a point is."""

    across: tuple[int, ...]
    down: tuple[int, ...]
    letter_px: int

    @classmethod
    def of(cls, photo: JobPhoto) -> "Ruler":
        longer = max(photo.width_px, photo.height_px)
        step = max(50, round(longer / _RULER_STEPS / 50) * 50)
        return cls(
            across=tuple(range(step, photo.width_px, step)),
            down=tuple(range(step, photo.height_px, step)),
            letter_px=round(longer / 45),
        )


def readout_of(found: Trace, units: str) -> Readout:
    across = [x for x, _, _ in found.points_m]
    ups = [up for _, _, up in found.points_m]
    sides = (length_text(max(side) - min(side), units) for side in (across, ups))
    return Readout(
        length=length_text(found.length_m, units),
        give_or_take=_give_or_take(_SURE_SD * found.length_sd_m, units),
        extent="{} from side to side, {} from its lowest point to its highest".format(*sides),
        cautions=tuple(sentence(caution) for caution in found.cautions),
    )


def _give_or_take(metres: float, units: str) -> str:
    least = 0.01 if units == Units.METRIC else METRES_PER_INCH
    return length_text(max(metres, least), units)


def _joined(points: list[Point] | tuple[Point, ...]) -> str:
    return " ".join(f"{x:g},{y:g}" for x, y in points)
