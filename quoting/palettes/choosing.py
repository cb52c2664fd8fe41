"""Each colour found beside its closest balloons, and which of them the owner takes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from quoting.estimator.palette import match
from quoting.estimator.sharing import webster
from quoting.palettes.balloons import Balloon
from quoting.palettes.starts import FoundColour

LEFT_OUT: Final = ""
NONE_CHOSEN: Final = "Choose a balloon for at least one colour."
NOT_OFFERED: Final = "A balloon you chose is not in the catalogue any more: choose another."
FIELD: Final = "match_{number}"
AS_IN_PHOTO, LAST_IS_ACCENT = "as_in_photo", "accent"


@dataclass(frozen=True, kw_only=True)
class Offer:
    """`enough` is None until the shelf is counted."""

    balloon: Balloon
    in_words: str
    enough: bool | None
    is_chosen: bool


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """A colour that was found and what may stand for it."""

    field: str
    found: FoundColour
    offers: tuple[Offer, ...]

    @property
    def chosen(self) -> Balloon | None:
        return next((offer.balloon for offer in self.offers if offer.is_chosen), None)


@dataclass(frozen=True, kw_only=True)
class Wanted:
    """What is ticked. `keys` are balloons by field name; None before anything was chosen."""

    keys: Mapping[str, str] | None = None
    as_in_photo: bool = True
    last_is_accent: bool = False

    def key_for(self, field: str, closest: str) -> str:
        return closest if self.keys is None else self.keys.get(field, LEFT_OUT)


@dataclass(frozen=True, kw_only=True)
class Part:
    """`percent` is None where nobody said how much of it: an equal share."""

    balloon: Balloon
    percent: int | None

    @property
    def name(self) -> str:
        return self.balloon.name

    @property
    def hex(self) -> str:
        return self.balloon.hex


@dataclass(frozen=True, kw_only=True)
class Palette:
    base: tuple[Part, ...]
    accent: Balloon | None

    def hexes(self) -> dict[str, str]:
        chosen = [part.balloon for part in self.base] + ([self.accent] if self.accent else [])
        return {balloon.name: balloon.hex for balloon in chosen}


class NothingChosen(Exception):
    """The message is for the owner to read."""


def wanted_of(posted: Mapping[str, str]) -> Wanted:
    stem = FIELD.format(number="")
    return Wanted(
        keys={name: posted[name] for name in posted if name.startswith(stem)},
        as_in_photo=AS_IN_PHOTO in posted,
        last_is_accent=LAST_IS_ACCENT in posted,
    )


def proposals_for(
    found: Sequence[FoundColour],
    balloons: Sequence[Balloon],
    *,
    wanted: Wanted,
    need: int | None = None,
) -> tuple[Proposal, ...]:
    """The closest balloon of each is chosen until somebody says otherwise."""
    return tuple(
        _proposal(FIELD.format(number=number), colour, balloons, wanted=wanted, need=need)
        for number, colour in enumerate(found)
    )


def _proposal(
    field: str,
    found: FoundColour,
    balloons: Sequence[Balloon],
    *,
    wanted: Wanted,
    need: int | None,
) -> Proposal:
    by_key = {balloon.key: balloon for balloon in balloons}
    matches = match(found.hex, [balloon.as_shelf_colour() for balloon in balloons], need=need)
    chosen = wanted.key_for(field, matches[0].key if matches else LEFT_OUT)
    offers = tuple(
        Offer(
            balloon=by_key[each.key],
            in_words=each.in_words,
            enough=each.enough,
            is_chosen=each.key == chosen,
        )
        for each in matches
    )
    return Proposal(field=field, found=found, offers=offers)


def refuse_unknown(proposals: Sequence[Proposal], wanted: Wanted) -> None:
    """A catalogue that changed since the page was shown must not drop a colour unsaid."""
    if any((wanted.keys or {}).get(each.field) and not each.chosen for each in proposals):
        raise NothingChosen(NOT_OFFERED)


def palette_of(proposals: Sequence[Proposal], wanted: Wanted) -> Palette:
    """Largest first. Two colours with one balloon are one colour, with the shares of both.

    The smallest becomes the accent where that is wanted; without shares the last one does.
    """
    shares: dict[Balloon, float | None] = {}
    for proposal in proposals:
        if balloon := proposal.chosen:
            share = proposal.found.share
            shares[balloon] = None if share is None else (shares.get(balloon) or 0) + share
    if not shares:
        raise NothingChosen(NONE_CHOSEN)
    chosen = sorted(shares, key=lambda balloon: -(shares[balloon] or 0))
    accent = chosen.pop() if wanted.last_is_accent and len(chosen) > 1 else None
    return Palette(base=_parts(chosen, shares, as_in_photo=wanted.as_in_photo), accent=accent)


def _parts(
    chosen: Sequence[Balloon], shares: Mapping[Balloon, float | None], *, as_in_photo: bool
) -> tuple[Part, ...]:
    given = [share for balloon in chosen if (share := shares[balloon]) is not None]
    if not as_in_photo or len(given) < len(chosen):
        return tuple(Part(balloon=balloon, percent=None) for balloon in chosen)
    # One each comes first: a colour that was chosen is never rounded away.
    rest = webster(100 - len(given), given)
    return tuple(
        Part(balloon=balloon, percent=1 + seats)
        for balloon, seats in zip(chosen, rest, strict=True)
    )
