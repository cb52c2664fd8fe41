import pytest

from decor.models.business import Units
from quoting.estimator import spec_from_dict
from quoting.estimator.paths import path_length
from quoting.pieces import defaults as d
from quoting.pieces.reading import read_piece
from tests.quoting.pieces.conftest import surroundings_in

FEET = 0.3048


@pytest.mark.parametrize("units", Units.values)
@pytest.mark.parametrize("shape", d.SHAPES)
@pytest.mark.parametrize("fullness", d.FULLNESS)
def test_shape_fullness_and_palette_are_enough_for_a_first_answer(shape, fullness, units):
    typed = {"shape": shape, "fullness": fullness, "base": ["oat", "fern"]}
    reading = read_piece(typed, surroundings_in(units))
    assert not reading.form.errors
    assert reading.estimate.price.total_cents > 0


@pytest.mark.parametrize(
    ("fullness", "low", "high"),
    [
        # A single strip takes 4 to 5 a foot: melody-fantasy.com.
        ("slim", 4.0, 5.0),
        # 12 ft take 60 to 84, that is 5 to 7 a foot: infocomm.ky.
        ("full", 5.0, 7.0),
        # 10 to 12 a foot with 20 % spare, that is 8.3 to 10 needed: iplocation.net.
        ("lush", 8.3, 10.0),
    ],
)
def test_fullness_gives_about_as_many_a_foot_as_others_publish(fullness, low, high, surroundings):
    typed = {
        "shape": "window_line",
        "line_length": "12 ft",
        "backing": "free",
        "fullness": fullness,
        "base": ["oat"],
        "fillers": "none",
    }
    made = read_piece(typed, surroundings).estimate
    assert low <= (made.count.body + made.make.singles) / 12 <= high


def test_each_fullness_takes_more_than_the_one_before(surroundings):
    totals = [
        read_piece({"fullness": fullness, "base": ["oat"]}, surroundings).estimate.count.body
        for fullness in ("slim", "full", "lush")
    ]
    assert totals == sorted(totals)
    assert len(set(totals)) == 3


@pytest.mark.parametrize(
    ("nominals", "fullness", "mix"),
    [
        ({5, 11, 17, 24}, "full", {11: 0.85, 17: 0.15}),
        ({5, 11, 17, 24}, "slim", {11: 1.0}),
        ({5, 11}, "lush", {11: 1.0}),
        ({5, 24}, "full", {5: 1.0}),
        (set(), "full", {11: 1.0}),
    ],
)
def test_the_usual_mix_uses_only_sizes_that_every_colour_comes_in(nominals, fullness, mix):
    assert d.usual_mix(fullness, nominals) == mix


@pytest.mark.parametrize("units", Units.values)
def test_the_usual_points_can_be_typed_as_they_are_shown(units):
    text = d.usual_points_text(units)
    surroundings = surroundings_in(units)
    shown = read_piece({"shape": "drape", "base": ["oat"]}, surroundings).spec
    typed = read_piece({"shape": "drape", "drape_points": text, "base": ["oat"]}, surroundings).spec
    assert path_length(shown.path) == pytest.approx(path_length(typed.path))


def test_usual_sizes_are_round_in_either_unit():
    arch = d.SHAPES["doorway_arch"]
    imperial = d.usual_dimensions(arch, Units.IMPERIAL)
    assert imperial == {
        "arch_width": pytest.approx(4 * FEET),
        "arch_height": pytest.approx(7.5 * FEET),
    }
    assert d.usual_dimensions(arch, Units.METRIC) == {"arch_width": 1.2, "arch_height": 2.3}


def test_every_kind_of_path_is_offered():
    kinds = {shape.kind for shape in d.SHAPES.values()}
    assert kinds == set(d.PATH_KINDS) == {"line", "arch", "posts", "swag", "ring", "drape"}


def test_what_the_defaults_make_is_a_spec_file_by_itself(surroundings):
    from quoting.estimator import spec_to_dict

    spec = read_piece({"base": ["oat"]}, surroundings).spec
    assert spec_from_dict(spec_to_dict(spec)) == spec
