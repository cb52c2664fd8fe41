from quoting.palettes.choosing import Palette, Part
from quoting.palettes.service import typed_with
from tests.quoting.palettes.test_choosing import COPPER, FERN, OAT

TYPED = {
    "shape": "walk_arch",
    "base": ["plum", "oat"],
    "share_plum": "70",
    "share_oat": "30",
    "size_share_11": "80",
    "accents": ["marigold"],
    "accent_share_marigold": "5",
    "colour_order": "plum, oat, fern",
}


def palette(*percents: int | None, accent=None) -> Palette:
    parts = [
        Part(balloon=balloon, percent=percent)
        for balloon, percent in zip((FERN, OAT), percents, strict=False)
    ]
    return Palette(base=tuple(parts), accent=accent)


def test_the_palette_and_its_shares_are_replaced_and_all_else_stays():
    typed = typed_with(TYPED, palette(60, 40))
    assert typed == {
        "shape": "walk_arch",
        "base": ["fern", "oat"],
        "share_fern": "60",
        "share_oat": "40",
        "size_share_11": "80",
        "accents": ["marigold"],
        "accent_share_marigold": "5",
        "colour_order": "oat, fern",
    }


def test_equal_shares_leave_the_fields_empty():
    typed = typed_with(TYPED, palette(None, None))
    assert not [name for name in typed if name.startswith("share_")]


def test_an_accent_takes_the_place_of_the_accents():
    assert typed_with(TYPED, palette(60, 40, accent=COPPER))["accents"] == ["copper"]


def test_an_order_of_which_nothing_is_left_is_dropped():
    assert "colour_order" not in typed_with({**TYPED, "colour_order": "plum"}, palette(60, 40))


def test_a_piece_that_was_never_typed_takes_a_palette():
    assert typed_with({}, palette(None))["base"] == ["fern"]
