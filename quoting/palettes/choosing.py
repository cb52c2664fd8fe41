"""Each colour found beside its closest balloons, and which of them the owner takes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from quoting.estimator.palette import Match, Nearness, match
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
    """Of each colour the closest balloons; `wanted` says which is chosen."""
    shelf = [balloon.to_match() for balloon in balloons]
    by_key = {balloon.key: balloon for balloon in balloons}
    matches = {
        FIELD.format(number=number): match(colour.hex, shelf, need=need)
        for number, colour in enumerate(found)
    }
    keys = first_choice(matches) if wanted.keys is None else wanted.keys
    return tuple(
        Proposal(
            field=field,
            found=colour,
            offers=_offers(matches[field], by_key, chosen=keys.get(field, LEFT_OUT)),
        )
        for field, colour in zip(matches, found, strict=True)
    )


def first_choice(matches: Mapping[str, Sequence[Match]]) -> dict[str, str]:
    """The closest of each, until somebody says otherwise.

    Where that is far off, and closer to another colour found, it is left out: a floor that is
    not even near copper must not make the copper more.
    """
    closest = {field: found[0] for field, found in matches.items() if found}
    best: dict[str, float] = {}
    for each in closest.values():
        best[each.key] = min(each.delta_e, best.get(each.key, each.delta_e))
    return {
        field: each.key
        for field, each in closest.items()
        if each.nearness is not Nearness.FAR or each.delta_e == best[each.key]
    }


def _offers(
    matches: Sequence[Match], by_key: Mapping[str, Balloon], *, chosen: str
) -> tuple[Offer, ...]:
    return tuple(
        Offer(
            balloon=by_key[each.key],
            in_words=each.in_words,
            enough=each.enough,
            is_chosen=each.key == chosen,
        )
        for each in matches
    )


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
    return tuple(
        Part(balloon=balloon, percent=percent)
        for balloon, percent in zip(chosen, _percents(given), strict=True)
    )


def _percents(shares: Sequence[float]) -> list[int]:
    """Whole ones that come to 100, largest first; none is rounded away, the largest gives."""
    percents = list(webster(100, shares))
    percents[0] -= percents.count(0)
    return [max(1, percent) for percent in percents]
