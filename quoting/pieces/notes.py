"""What stands under each field: what it takes when it is empty, or what is wrong with it."""

from collections.abc import Iterator
from dataclasses import dataclass

from decor.display import length_text, percent_text
from quoting.pieces import defaults as d
from quoting.pieces.measures import temperature_text
from quoting.pieces.reading import Reading, Surroundings
from quoting.pieces.spec_building import base_shares
from quoting.pieces.words import said

FREE_OR_FLAT = {"free": "nothing behind it", "flat": "flat at the back"}


@dataclass(frozen=True)
class Note:
    """`usual` is what an empty field takes, to be shown in it."""

    text: str = ""
    usual: str = ""
    is_error: bool = False


def notes_of(reading: Reading, surroundings: Surroundings, *, with_errors: bool) -> dict[str, Note]:
    """A note for every field of the form, though most may be empty."""
    usual = dict(_Usuals(reading, surroundings).notes())
    form = reading.form
    found = {}
    for name in form.fields:
        note = usual.get(name, Note())
        if with_errors and name in form.errors:
            note = Note(" ".join(form.errors[name]), note.usual, is_error=True)
        found[name] = note
    return found


class _Usuals:
    def __init__(self, reading: Reading, surroundings: Surroundings) -> None:
        self.form = reading.form
        self.values = reading.form.cleaned_data
        self.shelf = reading.form.shelf
        self.units = surroundings.units
        self.surroundings = surroundings
        self.fullness = d.FULLNESS[reading.form.fullness_key]

    def notes(self) -> Iterator[tuple[str, Note]]:
        yield "title", Note(usual=self.form.shape.label)
        yield from self._dimensions()
        yield from self._widths()
        yield from self._shares()
        yield from self._sizes()
        yield from self._extras()
        yield from self._site()

    def _length(self, metres: float) -> str:
        return length_text(metres, self.units)

    def _dimensions(self) -> Iterator[tuple[str, Note]]:
        shape = self.form.shape
        for field, metres in d.usual_dimensions(shape, self.units).items():
            text = self._length(metres)
            yield field, Note(f"Usually {text}", text)
        yield "shape", Note(f"The usual size is for {shape.why}.")
        if shape.kind == "drape":
            text = "Up from the ground, and along from the left. A third number comes towards you."
            yield d.POINTS_FIELD, Note(text, d.usual_points_text(self.units))
        yield "backing", Note(f"Usual for this shape: {FREE_OR_FLAT[shape.backing]}")

    def _widths(self) -> Iterator[tuple[str, Note]]:
        word = self.fullness.label.lower()
        for field, usual in (
            ("width_ends", self.fullness.ends),
            ("width_middle", self.fullness.middle),
        ):
            text = self._length(usual.in_metres(self.units))
            yield field, Note(f"Usual for {word}: {text}", text)

    def _shares(self) -> Iterator[tuple[str, Note]]:
        keys = self.values.get("base", [])
        shares = base_shares(self.values, keys)
        empty = [key for key in keys if self.values.get(f"share_{key}") is None]
        for key in empty:
            if shares[key] > 0:
                yield (
                    f"share_{key}",
                    Note(usual=percent_text(round(shares[key])).removesuffix(" %")),
                )
        yield "base", Note(self._remainder(keys, empty, shares))
        for key in self.form.ticked("accents"):
            usual = percent_text(round(d.ACCENT_SHARE * 10_000)).removesuffix(" %")
            yield f"accent_share_{key}", Note(usual=usual)

    def _remainder(self, keys: list[str], empty: list[str], shares: dict[str, float]) -> str:
        if not keys:
            return "Tick the colours of the garland."
        if not empty:
            return "All shares are given."
        rest = sum(shares[key] for key in empty)
        if len(empty) == len(keys):
            return "One colour only." if len(keys) == 1 else "Equal shares, unless you give some."
        names = said([self.shelf.name_of(key) for key in empty])
        return f"{names} {'takes' if len(empty) == 1 else 'share'} the other {_whole(rest)}."

    def _sizes(self) -> Iterator[tuple[str, Note]]:
        nominals = self.shelf.nominals
        mix = d.usual_mix(
            self.fullness.key, self.shelf.common_nominals(self.values.get("base", []))
        )
        is_typed = any(self.values.get(f"size_share_{nominal:g}") for nominal in nominals)
        for nominal in nominals:
            share = 0 if is_typed else mix.get(nominal, 0)
            yield f"size_share_{nominal:g}", Note(usual=f"{share * 100:g}")
            low, high = d.usual_inflation(nominal)
            yield f"size_low_{nominal:g}", Note(usual=f"{low:g}")
            yield f"size_high_{nominal:g}", Note(usual=f"{high:g}")
        low, high = d.ACCENT_INFLATED_IN
        yield "accent_low", Note(usual=f"{low:g}")
        yield "accent_high", Note(usual=f"{high:g}")

    def _extras(self) -> Iterator[tuple[str, Note]]:
        each = self._length(1 / d.SINGLES["usual"].number)
        usual = (
            "none"
            if self.fullness.singles == "none"
            else f"about one every {each}, where the garland is wider than they are"
        )
        yield "singles", Note(f"24-inch, added when it hangs. Usual for this fullness: {usual}")
        yield "fillers", Note("5-inch, in mini-clusters of twelve")
        yield "filler_colours", Note("None ticked: the colours of the palette")
        yield "single_colours", Note("None ticked: the colours of the palette")
        yield "accents", Note("11-inch in bunches, set in a zigzag along the piece")
        yield "cluster_of", Note("Fours are quicker to twist and easier in narrow garlands")
        yield "colour_order", Note("For bands and blends: names with commas, from the start on")
        yield "confidence", Note("More spares cost more; running out costs the job")
        for colour in self.shelf.foil:
            yield f"burst_{colour.key}", Note(usual="0")

    def _site(self) -> Iterator[tuple[str, Note]]:
        place = self.surroundings.site_name or "The place"
        where = "outdoors" if self.surroundings.site_is_outdoor else "indoors"
        made_at = temperature_text(d.MADE_AT_C, self.units)
        yield "outdoor", Note(f"{place} is {where}")
        yield "height", Note("Empty: as high as the piece itself")
        yield "made_at", Note(f"Usually {made_at}", made_at)
        yield "site_temperature", Note("Empty: as warm as where it is made")
        unit = "km/h" if self.units == "metric" else "mph"
        yield "gust", Note(f"In {unit}, unless you write another unit. Empty: no wind")
        yield "forecast_source", Note("So that you know where to look again")
        yield "forecast_read", Note("A forecast of gusts is worth reading again after a day")
        yield "crew", Note(usual=str(d.CREW))


def _whole(basis_points: float) -> str:
    return percent_text(round(basis_points))
