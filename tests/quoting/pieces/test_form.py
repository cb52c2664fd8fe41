"""Bad input: a message beside the field that says what is allowed, in the business's units."""

import pytest

from decor.models.business import Units
from quoting.pieces.form import CHOOSE_A_COLOUR, CHOOSE_ONE_OF_THESE
from quoting.pieces.reading import read_piece
from tests.quoting.pieces.conftest import surroundings_in

LENGTH = "Write a length such as 7 ft 6 in."
WIDTHS = "Between 4 in and 9 ft 10 in, please."

BAD = [
    # zero, negative, absurd, not a number
    ({"shape": "window_line", "line_length": "0"}, "line_length", "Between 1 ft and 328 ft 1 in"),
    ({"shape": "window_line", "line_length": "-6 ft"}, "line_length", LENGTH),
    ({"shape": "window_line", "line_length": "4 km"}, "line_length", LENGTH),
    ({"shape": "window_line", "line_length": "4000 m"}, "line_length", "Between 1 ft and 328 ft"),
    ({"shape": "window_line", "line_length": "9" * 400}, "line_length", "Between 1 ft and 328 ft"),
    ({"shape": "walk_arch", "arch_width": "NaN"}, "arch_width", LENGTH),
    ({"shape": "walk_arch", "arch_width": "90 m", "arch_height": "90 m"}, "arch_width",
     "All along its path"),
    ({"shape": "porch_swag", "swag_sag": "0"}, "swag_sag", "Between 2 in and"),
    ({"width_ends": "2 mm"}, "width_ends", WIDTHS),
    ({"width_middle": "20 ft"}, "width_middle", WIDTHS),
    ({"station_0_at": "120", "station_0_width": "1 ft"}, "station_0_at", "Between 0 % and 100 %"),
    ({"station_0_at": "30"}, "station_0_width", "Give both"),
    ({"station_0_width": "1 ft"}, "station_0_at", "Give both"),
    (
        {"station_0_at": "30", "station_0_width": "1 ft", "station_1_at": "30",
         "station_1_width": "2 ft"},
        "station_1_at",
        "two widths for this place",
    ),
    ({"shape": "drape", "drape_points": "0, 0"}, "drape_points", "Between 2 and 60 points"),
    ({"shape": "drape", "drape_points": "0, 0\n1, x"}, "drape_points", "Line 2: write across, up"),
    ({"shape": "drape", "drape_points": "0,0\n900 m,0"}, "drape_points", "Line 2: within 328 ft"),
    ({"shape": "drape", "drape_points": "1,1\n1,1"}, "drape_points", "All along its path"),
    ({"crew": "0"}, "crew", "A whole number between 1 and 20"),
    ({"crew": "two"}, "crew", "A whole number between 1 and 20"),
    ({"burst_copper": "-1"}, "burst_copper", "A whole number between 0 and 200"),
    ({"burst_copper": "9999"}, "burst_copper", "A whole number between 0 and 200"),
    ({"gust": "nan"}, "gust", "Write a wind speed such as 20 mph"),
    ({"gust": "500"}, "gust", "Between 0 and 134 mph"),
    ({"site_temperature": "warm"}, "site_temperature", "Write a temperature such as 40 F"),
    ({"site_temperature": "200"}, "site_temperature", "Between -22 °F and 122 °F"),
    ({"height": "-3 ft"}, "height", LENGTH),
    # missing
    ({"base": []}, "base", CHOOSE_A_COLOUR),
    # shares that do not sum to one
    ({"base": ["oat", "fern"], "share_oat": "50", "share_fern": "40"}, "base",
     "they make 90 %. Give away the other 10 %"),
    ({"base": ["oat", "fern"], "share_oat": "80", "share_fern": "40"}, "base",
     "they make 120 %. Take away 20 %"),
    ({"base": ["oat", "fern"], "share_oat": "100"}, "base", "nothing is left for the colour"),
    ({"base": ["oat", "fern"], "share_oat": "0"}, "share_oat", "Between 0.1 % and 100 %"),
    ({"size_share_11": "60", "size_share_17": "20"}, "size_share_11",
     "they make 80 %. Please give 20 %"),
    # inflated larger than nominal, or the wrong way round
    ({"size_high_11": "12"}, "size_high_11", "Between 3.7 and 11 in"),
    ({"size_low_17": "3"}, "size_low_17", "Between 5.7 and 17 in"),
    ({"size_low_11": "9", "size_high_11": "8"}, "size_low_11", "must not be above the largest"),
    ({"size_low_11": "10.5"}, "size_low_11", "must not be above the largest"),
    ({"accents": ["plum"], "accent_high": "11.5"}, "accent_high", "Between 3.7 and 11 in"),
    ({"accents": ["plum"], "accent_low": "9.5"}, "accent_low", "must not be above the largest"),
    # an unknown colour, an unknown choice
    ({"base": ["oat", "puce"]}, "base", "puce is not on the shelf any more"),
    ({"base": ["oat"], "filler_colours": ["puce"]}, "filler_colours", "puce is not on the shelf"),
    ({"base": ["oat"], "colour_order": "Oat, Plum"}, "colour_order", "Plum is not among"),
    ({"shape": "spiral"}, "shape", CHOOSE_ONE_OF_THESE),
    ({"fullness": "huge"}, "fullness", CHOOSE_ONE_OF_THESE),
    # more accents than there is room for
    ({"accents": ["plum"], "accent_share_plum": "100", "accent_low": "9", "accent_high": "11"},
     "accents", "leave no room for base"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "field", "message"), BAD)
def test_what_is_wrong_is_said_beside_its_field(typed, field, message, surroundings):
    reading = read_piece({"base": ["oat"], **typed}, surroundings)
    assert reading.spec is None
    assert message in " ".join(reading.form.errors.get(field, [])), reading.form.errors


def test_everything_that_is_wrong_is_said_at_once(surroundings):
    typed = {"base": [], "arch_width": "wide", "crew": "0", "gust": "gale"}
    assert set(read_piece(typed, surroundings).form.errors) == {
        "base",
        "arch_width",
        "crew",
        "gust",
    }


def test_a_metric_business_is_answered_in_metres():
    typed = {"base": ["oat"], "arch_width": "wide", "width_ends": "2 mm"}
    errors = read_piece(typed, surroundings_in(Units.METRIC)).form.errors
    assert errors["arch_width"] == ["Write a length such as 2.3 m."]
    assert errors["width_ends"] == ["Between 0.10 m and 3.00 m, please."]


def test_a_size_that_a_colour_does_not_come_in_is_said_beside_the_colour(surroundings):
    from dataclasses import replace

    some = tuple(
        item
        for item in surroundings.catalogue.items
        if (item.colour, item.nominal_in) != ("plum", 17.0)
    )
    catalogue = replace(surroundings.catalogue, items=some)
    bare = replace(surroundings, catalogue=catalogue, offered=catalogue)
    typed = {"base": ["oat", "plum"]}
    assert read_piece(typed, bare).is_possible, "the usual mix leaves the 17-inch out"
    typed |= {"size_share_11": "50", "size_share_17": "50"}
    errors = read_piece(typed, bare).form.errors
    assert "not 17 in" in errors["share_plum"][0]


def test_fields_of_a_shape_that_is_not_chosen_are_kept_and_not_judged(surroundings):
    typed = {"base": ["oat"], "shape": "table_line", "arch_width": "as wide as it goes"}
    form = read_piece(typed, surroundings).form
    assert not form.errors
    assert form["arch_width"].value() == "as wide as it goes"
