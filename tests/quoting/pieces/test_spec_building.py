"""Tables of what is typed and the spec file's dict that it means."""

from typing import Any

import pytest

from decor.models.business import Units
from quoting.estimator import example_catalogue
from quoting.pieces.form import PieceForm
from quoting.pieces.shelf import shelf_of
from quoting.pieces.spec_building import Around, BuiltSpec, build_spec

FT, IN = 0.3048, 0.0254
SHELF = shelf_of(example_catalogue())


def built(
    typed: dict[str, Any], *, units: str = Units.IMPERIAL, outdoor: bool = False
) -> BuiltSpec:
    form = PieceForm({"base": ["oat"], **typed}, units=units, shelf=SHELF)
    assert form.is_valid(), form.errors
    return build_spec(form.cleaned_data, Around(units=units, shelf=SHELF, site_is_outdoor=outdoor))


def data(typed: dict[str, Any], **kwargs: Any) -> dict[str, Any]:
    return built(typed, **kwargs).data


@pytest.mark.parametrize(
    ("typed", "path"),
    [
        ({"shape": "window_line", "line_length": "10 ft"}, {"kind": "line", "length_m": 10 * FT}),
        (
            {"shape": "walk_arch", "arch_width": "9 ft 6 in", "arch_height": "7'"},
            {"kind": "arch", "width_m": 9.5 * FT, "height_m": 7 * FT},
        ),
        (
            {"shape": "walk_arch", "arch_width": "9"},
            {"kind": "arch", "width_m": 9 * FT, "height_m": 8 * FT},
        ),
        (
            {"shape": "entrance_posts", "posts_width": "3 m", "posts_height": "240 cm"},
            {"kind": "posts", "width_m": 3.0, "height_m": 2.4},
        ),
        (
            {"shape": "porch_swag", "swag_span": "7 ft", "swag_sag": "20 in"},
            {"kind": "swag", "span_m": 7 * FT, "sag_m": 20 * IN},
        ),
        ({"shape": "backdrop_ring", "ring_diameter": "2 m"}, {"kind": "ring", "diameter_m": 2.0}),
        (
            {"shape": "drape", "drape_points": "0, 0\n0, 6 ft\n5 ft, 6 ft, 1 ft"},
            {"kind": "drape", "points_m": [[0, 0, 0], [0, 0, 6 * FT], [5 * FT, -1 * FT, 6 * FT]]},
        ),
        # What was typed for another shape is kept aside and does not count.
        (
            {"shape": "table_line", "arch_width": "12 ft", "ring_diameter": "no length"},
            {"kind": "line", "length_m": 6 * FT},
        ),
    ],
)
def test_a_shape_and_its_lengths_become_a_path(typed, path):
    got = data(typed)["path"]
    assert got["kind"] == path["kind"]
    assert got.keys() == path.keys()
    for key in path.keys() - {"kind", "points_m"}:
        assert got[key] == pytest.approx(path[key])
    for point, expected in zip(got.get("points_m", []), path.get("points_m", []), strict=True):
        assert point == pytest.approx(expected)


@pytest.mark.parametrize(
    ("typed", "width"),
    [
        ({"fullness": "slim"}, [[0, 1 * FT], [0.5, 16 * IN], [1, 1 * FT]]),
        ({"fullness": "lush"}, [[0, 22 * IN], [0.5, 38 * IN], [1, 22 * IN]]),
        ({"width_middle": "3 ft"}, [[0, 1.5 * FT], [0.5, 3 * FT], [1, 1.5 * FT]]),
        ({"width_ends": "10 in"}, [[0, 10 * IN], [0.5, 2.5 * FT], [1, 10 * IN]]),
        (
            {"station_0_at": "25", "station_0_width": "2 ft", "station_3_at": "100",
             "station_3_width": "3 ft"},
            [[0, 1.5 * FT], [0.25, 2 * FT], [0.5, 2.5 * FT], [1, 3 * FT]],
        ),
        (
            {"station_0_at": "50 %", "station_0_width": "1 ft"},
            [[0, 1.5 * FT], [0.5, 1 * FT], [1, 1.5 * FT]],
        ),
    ],
)  # fmt: skip
def test_fullness_and_widths_become_stations(typed, width):
    got = data(typed)["width"]
    assert [at for at, _ in got] == [at for at, _ in width]
    assert [w for _, w in got] == pytest.approx([w for _, w in width])


@pytest.mark.parametrize(
    ("typed", "base"),
    [
        ({"base": ["oat"]}, [("oat", 1.0)]),
        ({"base": ["oat", "fern"]}, [("oat", 0.5), ("fern", 0.5)]),
        ({"base": ["oat", "fern", "plum"]}, [("oat", 1 / 3), ("fern", 1 / 3), ("plum", 1 / 3)]),
        ({"base": ["oat", "fern"], "share_oat": "70"}, [("oat", 0.7), ("fern", 0.3)]),
        (
            {"base": ["oat", "fern", "plum"], "share_plum": "50 %"},
            [("oat", 0.25), ("fern", 0.25), ("plum", 0.5)],
        ),
        (
            {"base": ["oat", "fern", "plum"], "share_oat": "33.3", "share_fern": "33.3",
             "share_plum": "33.4"},
            [("oat", 0.333), ("fern", 0.333), ("plum", 0.334)],
        ),
        # A share of a colour that is not ticked is kept aside.
        ({"base": ["oat"], "share_fern": "150"}, [("oat", 1.0)]),
        (
            {"base": ["oat", "fern", "plum"], "colour_order": "Plum, oat"},
            [("plum", 1 / 3), ("oat", 1 / 3), ("fern", 1 / 3)],
        ),
    ],
)  # fmt: skip
def test_colours_share_what_is_left(typed, base):
    got = data(typed)["base"]
    assert [part["colour"] for part in got] == [colour for colour, _ in base]
    assert [part["share"] for part in got] == pytest.approx([share for _, share in base])


@pytest.mark.parametrize(
    ("typed", "sizes"),
    [
        ({"fullness": "slim"}, [(11, [6, 10], 1.0)]),
        ({"fullness": "full"}, [(11, [6, 10], 0.85), (17, [12, 15], 0.15)]),
        ({"size_share_11": "100"}, [(11, [6, 10], 1.0)]),
        (
            {"size_share_11": "60", "size_share_17": "40", "size_high_17": "14"},
            [(11, [6, 10], 0.6), (17, [12, 14], 0.4)],
        ),
        ({"fullness": "slim", "size_low_11": "7 in"}, [(11, [7, 10], 1.0)]),
        ({"fullness": "slim", "size_high_11": "24 cm"}, [(11, [6, 9.449], 1.0)]),
    ],
)
def test_balloon_sizes_are_the_usual_ones_or_those_typed(typed, sizes):
    got = [(s["nominal_in"], s["inflated_in"], s["share"]) for s in data(typed)["sizes"]]
    assert got == sizes


@pytest.mark.parametrize(
    ("typed", "part", "value"),
    [
        ({}, "backing", "flat"),
        ({"shape": "walk_arch"}, "backing", "free"),
        ({"backing": "free"}, "backing", "free"),
        ({}, "cluster_of", 8),
        ({"cluster_of": "4"}, "cluster_of", 4),
        ({}, "pattern", "spread"),
        ({"pattern": "blend"}, "pattern", "blend"),
        ({}, "crew", 1),
        ({"crew": "3"}, "crew", 3),
        ({}, "confidence", 0.95),
        ({"confidence": "0.99"}, "confidence", 0.99),
        ({}, "accents", []),
        (
            {"accents": ["plum"]},
            "accents",
            [{"colour": "plum", "inflated_in": [6, 9], "share": 0.08, "bunch": 4}],
        ),
        (
            {"accents": ["plum"], "accent_share_plum": "5", "accent_low": "7", "accent_bunch": "3"},
            "accents",
            [{"colour": "plum", "inflated_in": [7, 9], "share": 0.05, "bunch": 3}],
        ),
        ({}, "starbursts", []),
        ({"burst_copper": "0"}, "starbursts", []),
        ({"burst_copper": "3"}, "starbursts", [{"colour": "copper", "count": 3}]),
    ],
)
def test_the_rest_is_usual_until_it_is_typed(typed, part, value):
    assert data(typed)[part] == value


def test_fillers_and_singles_follow_the_palette_until_they_are_given_colours():
    full = data({"base": ["oat", "fern"], "single_colours": ["plum"]})
    assert full["fillers"]["colours"] == ["oat", "fern"]
    assert full["fillers"]["minis_per_m2"] == 1.25
    assert full["singles"]["colours"] == ["plum"]
    assert full["singles"]["per_m"] == 0.9


def test_none_leaves_fillers_and_singles_out():
    none = data({"fillers": "none", "singles": "none"})
    assert "fillers" not in none
    assert "singles" not in none
    assert "singles" not in data({"fullness": "slim"})


def test_a_garland_slimmer_than_a_large_single_has_none_unless_it_is_asked_for():
    slim = {"width_ends": "1 ft", "width_middle": "1 ft"}
    assert "singles" not in data(slim)
    assert data({**slim, "singles": "few"})["singles"]["per_m"] == 0.45


@pytest.mark.parametrize(
    ("typed", "key", "value"),
    [
        ({}, "made_at_c", 21.0),
        ({"made_at": "68"}, "made_at_c", 20.0),
        ({}, "site_c", 21.0),
        ({"made_at": "15 C"}, "site_c", 15.0),
        ({"site_temperature": "41 F"}, "site_c", 5.0),
        ({"site_temperature": "-4"}, "site_c", -20.0),
        # 1 mph is 0.44704 m/s and a knot 1852 m an hour, both exact.
        ({"gust": "20"}, "gust_mps", 20 * 0.44704),
        ({"gust": "10 m/s"}, "gust_mps", 10.0),
        ({"gust": "36 km/h"}, "gust_mps", 10.0),
        ({"gust": "18 knots"}, "gust_mps", 18 * 1852 / 3600),
        ({"height": "9 ft"}, "height_m", 9 * FT),
    ],
)
def test_the_place_is_read_in_the_units_of_the_business_or_those_written(typed, key, value):
    assert data(typed)["site"][key] == pytest.approx(value)


def test_a_metric_business_types_degrees_celsius_and_km_an_hour():
    site = data({"site_temperature": "4", "gust": "36"}, units=Units.METRIC)["site"]
    assert site["site_c"] == 4
    assert site["gust_mps"] == pytest.approx(10)


@pytest.mark.parametrize(
    ("typed", "at_an_outdoor_site", "outdoor"),
    [("", True, True), ("", False, False), ("no", True, False), ("yes", False, True)],
)
def test_the_place_of_the_job_says_whether_it_is_outdoors(typed, at_an_outdoor_site, outdoor):
    assert data({"outdoor": typed}, outdoor=at_an_outdoor_site)["site"]["outdoor"] is outdoor


@pytest.mark.parametrize(
    ("key", "field"),
    [
        ("path", "arch_width"),
        ("path.height_m", "arch_height"),
        ("width[1][1]", "width_middle"),
        ("base", "base"),
        ("base[0].share", "share_oat"),
        ("base[1].colour", "share_fern"),
        ("sizes[1].inflated_in", "size_low_17"),
        ("sizes[1].inflated_in[1]", "size_high_17"),
        ("sizes", "size_share_11"),
        ("fillers.colours[0]", "filler_colours"),
        ("singles.per_m", "singles"),
        ("accents[0].share", "accent_share_plum"),
        ("starbursts[0].count", "burst_copper"),
        ("site.gust_mps", "gust"),
        ("crew", "crew"),
        ("seed", None),
    ],
)
def test_every_key_of_the_spec_leads_back_to_its_field(key, field):
    typed = {"base": ["oat", "fern"], "accents": ["plum"], "burst_copper": "2"}
    assert built(typed).field_of(key) == field
