"""The pieces of a quote as its document shows them: alone, or variants of one side by side."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from decor.display import money_text
from decor.documents.fetcher import media_url
from quoting.documents.client_facts import client_facts, differing
from quoting.documents.measures import Measure, measures_of, overall_text
from quoting.documents.picturing import Box, Drawing, Seen, drawings_of, photo_of, seen_of
from quoting.documents.shown_amounts import share_shown, shown_amounts
from quoting.estimator import Spec, catalogue_from_dict, rates_from_dict, spec_from_dict
from quoting.pictures.drawing import FIRST_FIGURE

Frozen = Mapping[str, Any]

_PICTURE_ALT = "Picture of {title}. {words}"
_PHOTO_ALT = "{title} drawn on your photo of the place. {words}"
CHOOSE = {2: "Choose one of these two.", 3: "Choose one of these three."}
ONLY_FALLS = "They differ only in how the balloons fall."
TO_SCALE = "To scale, from the front. Balloons settle by hand, so yours will differ a little."
TO_SCALE_OPENED = (
    "To scale, with its corner opened flat. Balloons settle by hand, so yours will differ a little."
)
ON_PHOTO = (
    "Drawn to scale on your photo of the place. Balloons settle by hand, so yours will differ "
    "a little."
)
SAME_PRICE = "the same price"


@dataclass(frozen=True, kw_only=True)
class Medium:
    """What it is shown on: the room for a picture, by how many stand side by side, and where a
    photo is found by its name."""

    alone: Box
    photo: Box
    options: Mapping[int, Box]
    photo_url: Callable[[str], str]


# Millimetres, inside what A4 leaves between its margins.
PAPER = Medium(
    alone=Box(158.0, 66.0),
    photo=Box(158.0, 84.0),
    options={2: Box(74.0, 54.0), 3: Box(48.0, 44.0)},
    photo_url=media_url,
)


@dataclass(frozen=True, kw_only=True)
class DocumentPiece:
    title: str
    words: str
    share_text: str
    palette: tuple[Mapping[str, str], ...]
    measures: tuple[Measure, ...]
    picture: Drawing | None
    caption: str


@dataclass(frozen=True, kw_only=True)
class DocumentOption:
    """`total_text` is the whole quote's with this one; `more_text` against what is counted."""

    letter: str
    title: str
    words: str
    palette: tuple[Mapping[str, str], ...]
    drawing: Drawing | None
    share_text: str
    total_text: str
    more_text: str
    counts: bool


@dataclass(frozen=True)
class FactCell:
    text: str
    counts: bool


@dataclass(frozen=True)
class FactRow:
    """One thing in which the options differ, said of each in their order."""

    label: str
    cells: tuple[FactCell, ...]


@dataclass(frozen=True, kw_only=True)
class DocumentChoice:
    """`note` says what to do, and where the variants look alike that they do."""

    title: str
    note: str
    options: tuple[DocumentOption, ...]
    facts: tuple[FactRow, ...]


def document_pieces(
    inputs: Frozen, result: Frozen, *, medium: Medium = PAPER
) -> list[DocumentPiece | DocumentChoice]:
    """In the order of the offer; a choice stands where the one that counts is."""
    return list(_Pieces(inputs, result, medium).all())


def more_text(cents: int, currency: str) -> str:
    """`$120.00 more`, against what the total counts."""
    if not cents:
        return SAME_PRICE
    return f"{money_text(abs(cents), currency)} {'more' if cents > 0 else 'less'}"


def _caption(seen: Seen | None, *, is_photo: bool) -> str:
    if is_photo:
        return ON_PHOTO
    return TO_SCALE_OPENED if seen and seen.shown.unrolled else TO_SCALE


class _Pieces:
    def __init__(self, inputs: Frozen, result: Frozen, medium: Medium) -> None:
        self.inputs, self.result, self.offer = inputs, result, inputs["offer"]
        self.medium = medium
        self.units = inputs["business"]["units"]
        self.catalogue = catalogue_from_dict(inputs["catalogue"])
        self.rates = rates_from_dict(inputs["rates"])
        self.photos = inputs["photos"]

    def all(self) -> Iterator[DocumentPiece | DocumentChoice]:
        amounts = shown_amounts(self.inputs, self.result).pieces
        parts = self.offer["pieces"], self.inputs["in_words"], amounts
        for number, (piece, said, cents) in enumerate(zip(*parts, strict=True), start=1):
            options = [
                option
                for option in self.result["variants"]
                if option["choice"] == piece.get("choice")
            ]
            if options:
                yield self._choice(piece, options, f"choice-{number}-")
            else:
                yield self._piece(piece, said, self.money(cents), f"piece-{number}-")

    def money(self, cents: int) -> str:
        return money_text(cents, self.inputs["business"]["currency"])

    def _piece(self, piece: Frozen, said: Frozen, share_text: str, id_prefix: str) -> DocumentPiece:
        """Over the client's own photo where it was traced on one: that is what they know."""
        spec = spec_from_dict(piece["spec"])
        seen = self._seen(piece)
        photo = self._photo(piece, said, seen, id_prefix, box=self.medium.photo)
        return DocumentPiece(
            title=piece["title"],
            words=said["words"],
            share_text=share_text,
            palette=tuple(said["palette"]),
            measures=measures_of(spec, seen, units=self.units),
            picture=photo or self._drawing(piece, said, seen, id_prefix),
            caption=_caption(seen, is_photo=photo is not None),
        )

    def _seen(self, piece: Frozen) -> Seen | None:
        return seen_of(
            spec_from_dict(piece["spec"]),
            catalogue=self.catalogue,
            rates=self.rates,
            figure=piece.get("figure", FIRST_FIGURE),
        )

    def _drawing(
        self, piece: Frozen, said: Frozen, seen: Seen | None, id_prefix: str
    ) -> Drawing | None:
        if seen is None:
            return None
        alt = _PICTURE_ALT.format(title=piece["title"], words=said["words"])
        box = self.medium.alone
        return drawings_of([(seen, alt)], box=box, units=self.units, id_prefix=id_prefix)[0]

    def _photo(
        self,
        piece: Frozen,
        said: Frozen,
        seen: Seen | None,
        id_prefix: str,
        *,
        box: Box,
    ) -> Drawing | None:
        traced = piece.get("traced")
        if seen is None or traced is None or traced["photo"] not in self.photos:
            return None
        alt = _PHOTO_ALT.format(title=piece["title"], words=said["words"])
        return photo_of(
            seen,
            traced,
            box=box,
            alt=alt,
            id_prefix=f"{id_prefix}photo-",
            photo_url=self.medium.photo_url(traced["photo"]),
        )

    def _choice(
        self, counting: Frozen, options: Sequence[Frozen], id_prefix: str
    ) -> DocumentChoice:
        pieces = [self._offered(option["id"]) for option in options]
        said = [self._said(option["id"]) for option in options]
        specs = [spec_from_dict(piece["spec"]) for piece in pieces]
        seens = [self._seen(piece) for piece in pieces]
        facts = self._fact_rows(options, specs, seens)
        drawings = self._side_by_side(pieces, said, seens, id_prefix)
        parts = zip(options, said, drawings, strict=True)
        note = CHOOSE[len(options)]
        return DocumentChoice(
            title=counting["title"],
            note=note if facts else f"{note} {ONLY_FALLS}",
            options=tuple(self._option(*part) for part in parts),
            facts=facts,
        )

    def _fact_rows(
        self, options: Sequence[Frozen], specs: Sequence[Spec], seens: Sequence[Seen | None]
    ) -> tuple[FactRow, ...]:
        """Their overall size comes first, where any other thing differs at all."""
        found = differing(
            [client_facts(spec, catalogue=self.catalogue, units=self.units) for spec in specs]
        )
        rows = [
            (facts[0].label, [fact.text for fact in facts]) for facts in zip(*found, strict=True)
        ]
        if rows and all(seens):
            rows.insert(0, ("Overall", [overall_text(seen, self.units) for seen in seens]))
        counts = [option["counts"] for option in options]
        return tuple(FactRow(label, tuple(map(FactCell, texts, counts))) for label, texts in rows)

    def _option(self, option: Frozen, said: Frozen, drawing: Drawing | None) -> DocumentOption:
        return DocumentOption(
            letter=option["variant"],
            title=option["title"],
            words=said["words"],
            palette=tuple(said["palette"]),
            drawing=drawing,
            share_text=self.money(share_shown(option["share_cents"], self.inputs, self.result)),
            total_text=self.money(option["total_cents"]),
            more_text=more_text(option["more_cents"], self.inputs["business"]["currency"]),
            counts=option["counts"],
        )

    def _side_by_side(
        self,
        pieces: Sequence[Frozen],
        said: Sequence[Frozen],
        seens: Sequence[Seen | None],
        id_prefix: str,
    ) -> list[Drawing | None]:
        """Over the client's photo where every one of them is traced on it, else to one scale."""
        box = self.medium.options[len(pieces)]
        photos = [
            self._photo(piece, words, seen, f"{id_prefix}{number}-", box=box)
            for number, (piece, words, seen) in enumerate(zip(pieces, said, seens, strict=True))
        ]
        if all(photos):
            return photos
        if not all(seens):
            return [None] * len(pieces)
        alts = [
            _PICTURE_ALT.format(title=piece["title"], words=words["words"])
            for piece, words in zip(pieces, said, strict=True)
        ]
        pairs = zip(seens, alts, strict=True)
        return [*drawings_of(pairs, box=box, units=self.units, id_prefix=id_prefix, marked=False)]

    def _offered(self, pk: int) -> Frozen:
        every = (*self.offer["pieces"], *self.offer.get("variants", ()))
        return next(piece for piece in every if piece["id"] == pk)

    def _said(self, pk: int) -> Frozen:
        counting = zip(self.offer["pieces"], self.inputs["in_words"], strict=True)
        found = next((said for piece, said in counting if piece["id"] == pk), None)
        return found or self.inputs["variants_in_words"][str(pk)]
