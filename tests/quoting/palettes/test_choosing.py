import pytest

from inventory.models.item import Finish
from quoting.palettes.balloons import Balloon
from quoting.palettes.choosing import (
    NONE_CHOSEN,
    NOT_OFFERED,
    NothingChosen,
    Wanted,
    palette_of,
    proposals_for,
    refuse_unknown,
    wanted_of,
)
from quoting.palettes.starts import FoundColour


def balloon(key: str, hex_value: str, finish: str = Finish.PLAIN) -> Balloon:
    return Balloon(key=key, name=key.capitalize(), hex=hex_value, finish=finish, only_sizes="")


OAT, FERN = balloon("oat", "#e8dcc6"), balloon("fern", "#5e7f57")
COPPER, PLUM = balloon("copper", "#b4693d", Finish.SHINY), balloon("plum", "#6b3a5b")
SHELF = OAT, FERN, COPPER, PLUM


def colour(hex_value: str, share: float | None = None) -> FoundColour:
    return FoundColour(name="found", hex=hex_value, share=share)


PHOTO = colour("#e8dcc6", 0.6), colour("#5e7f57", 0.3), colour("#b4693d", 0.1)


def proposed(found=PHOTO, wanted=None):
    return proposals_for(found, SHELF, wanted=wanted or Wanted())


def chosen_keys(proposals) -> list[str | None]:
    return [each.chosen.key if each.chosen else None for each in proposals]


def test_the_closest_three_are_offered_and_the_closest_is_chosen():
    proposals = proposed()
    assert [len(each.offers) for each in proposals] == [3, 3, 3]
    assert chosen_keys(proposals) == ["oat", "fern", "copper"]
    assert proposals[0].offers[0].in_words == "same to the eye"


def test_the_shine_of_a_balloon_is_said():
    assert proposed()[2].offers[0].in_words == "same to the eye; shiny changes with the light"


def test_a_far_colour_does_not_add_to_a_balloon_that_is_closer_to_another():
    floor = colour("#6c5948", 0.2)
    assert chosen_keys(proposed((*PHOTO, floor)))[-1] is None
    assert proposed((*PHOTO, floor))[-1].offers[0].balloon == COPPER


def test_a_far_colour_alone_still_proposes_its_closest():
    assert chosen_keys(proposed([colour("#00ff00")])) != [None]


def test_whether_there_are_enough_is_left_open_until_the_shelf_is_counted():
    proposals = proposals_for(PHOTO, SHELF, wanted=Wanted(), need=40)
    assert {offer.enough for each in proposals for offer in each.offers} == {None}


def test_the_shares_of_the_photo_become_whole_per_cents_of_what_is_chosen():
    palette = palette_of(proposed(), Wanted())
    assert [(part.name, part.percent) for part in palette.base] == [
        ("Oat", 60),
        ("Fern", 30),
        ("Copper", 10),
    ]


@pytest.mark.parametrize("shares", [(0.5, 0.49, 0.01), (0.98, 0.01, 0.01), (0.34, 0.33, 0.33)])
def test_per_cents_come_to_a_hundred_and_nothing_chosen_is_rounded_away(shares):
    found = [colour(each.hex, share) for each, share in zip(PHOTO, shares, strict=True)]
    percents = [part.percent for part in palette_of(proposed(found), Wanted()).base]
    assert sum(percents) == 100
    assert min(percents) >= 1


def test_what_is_left_out_gives_its_share_to_the_others():
    wanted = Wanted(keys={"match_0": "", "match_1": "fern", "match_2": "copper"})
    palette = palette_of(proposed(wanted=wanted), wanted)
    assert [(part.name, part.percent) for part in palette.base] == [("Fern", 75), ("Copper", 25)]


def test_two_colours_with_one_balloon_are_one_colour_with_both_shares():
    found = [*PHOTO, colour("#e5dac3", 0.0)]
    wanted = Wanted(keys={"match_0": "oat", "match_2": "copper", "match_3": "oat"})
    palette = palette_of(proposed(found, wanted), wanted)
    assert [(part.name, part.percent) for part in palette.base] == [("Oat", 86), ("Copper", 14)]


def test_equal_shares_are_left_to_the_piece():
    wanted = Wanted(as_in_photo=False)
    assert {part.percent for part in palette_of(proposed(), wanted).base} == {None}
    typed = [colour(each.hex) for each in PHOTO]
    assert {part.percent for part in palette_of(proposed(typed), Wanted()).base} == {None}


def test_the_smallest_becomes_the_accent():
    wanted = Wanted(last_is_accent=True)
    palette = palette_of(proposed(), wanted)
    assert palette.accent == COPPER
    assert [(part.name, part.percent) for part in palette.base] == [("Oat", 67), ("Fern", 33)]
    assert list(palette.hexes()) == ["Oat", "Fern", "Copper"]


def test_a_single_colour_is_never_the_accent():
    wanted = Wanted(keys={"match_1": "fern"}, last_is_accent=True)
    palette = palette_of(proposed(wanted=wanted), wanted)
    assert (palette.accent, [part.name for part in palette.base]) == (None, ["Fern"])


def test_nothing_chosen_is_refused():
    wanted = Wanted(keys={})
    with pytest.raises(NothingChosen, match=NONE_CHOSEN):
        palette_of(proposed(wanted=wanted), wanted)


def test_a_balloon_that_is_not_offered_is_refused_and_not_dropped():
    wanted = Wanted(keys={"match_0": "<b>oat</b>", "match_1": "fern"})
    with pytest.raises(NothingChosen, match=NOT_OFFERED):
        refuse_unknown(proposed(wanted=wanted), wanted)


def test_only_what_belongs_to_the_choice_is_read_from_a_form():
    wanted = wanted_of({"match_0": "oat", "csrfmiddlewaretoken": "x", "accent": "on"})
    assert wanted == Wanted(keys={"match_0": "oat"}, as_in_photo=False, last_is_accent=True)
