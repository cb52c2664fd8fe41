import pytest

from decor.models.business import Units
from quoting.estimator.tracing import SQUARE_ON
from quoting.traces import form as words
from quoting.traces.form import TraceForm
from quoting.traces.typed import typed_at_first, typed_of
from tests.quoting.traces.conftest import (
    PATH_M,
    PHOTO_PX,
    corners_px,
    marked,
    numbered,
    taps_px,
)


def read(typed: dict[str, str], units: str = Units.IMPERIAL) -> TraceForm:
    form = TraceForm(typed_of(typed), units=units, photo_px=PHOTO_PX)
    form.full_clean()
    return form


def test_a_path_in_perspective_comes_out_in_metres():
    """Truth from a pinhole camera of our own; a tenth of a pixel is cut off, some 0.5 mm here."""
    found = read(marked()).trace.points_m
    assert [(x, up) for x, _, up in found] == [pytest.approx(at, abs=0.004) for at in PATH_M]


def test_corners_may_be_tapped_in_any_order():
    shuffled = [corners_px()[i] for i in (2, 0, 3, 1)]
    assert read(marked(**numbered("corner", shuffled))).trace.length_m == pytest.approx(
        read(marked()).trace.length_m
    )


def test_one_length_is_enough_square_on_and_says_that_it_must_be():
    ends, taps = [(100, 900), (100, 500)], [(300, 900), (500, 900), (500, 500)]
    form = read(
        {"known": "length", "length": "2 m", **numbered("end", ends), **numbered("tap", taps)}
    )
    assert form.trace.length_m == pytest.approx(3.0)  # 400 px are 2 m
    assert SQUARE_ON in form.trace.cautions


@pytest.mark.parametrize("units", [Units.IMPERIAL, Units.METRIC])
def test_at_first_there_is_a_door_of_the_usual_size(units):
    form = read({**marked(), **typed_at_first(units)}, units)
    assert form.plane.known_m == pytest.approx((0.9144, 2.032), abs=0.005)


def test_what_is_not_there_yet_is_not_wrong_until_it_is_to_be_used():
    form = read({"known": "rectangle", "width": "3 ft"})
    assert not form.errors
    form.refuse_unfinished()
    for row in (1, 2, 3, 4):
        assert form.errors[f"corner_{row}_x"] == [f"Mark corner {row} on the photo."]
    assert form.errors["height"] == [words.SIZE_MISSING]
    assert form.errors["tap_1_x"] == [words.FEW_TAPS]
    assert "width" not in form.errors


IN_LINE = numbered("corner", [(200, 200), (400, 200), (600, 200), (200, 800)])


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        (IN_LINE, "corner_2_x", "Corner 2 lies in line with corners 1 and 3"),
        (
            numbered("corner", [(200, 200), (203, 200), (600, 800), (200, 800)]),
            "corner_2_x",
            "Corners 1 and 2 are too near to each other.",
        ),
        ({"corner_3_x": "1601"}, "corner_3_x", "Between 0 and 1600, please"),
        ({"corner_3_y": "-1"}, "corner_3_y", "Between 0 and 1200, please"),
        ({"tap_2_y": "1200.5"}, "tap_2_y", "Between 0 and 1200, please"),
        ({"tap_2_x": "nan"}, "tap_2_x", words.PIXELS),
        ({"tap_2_x": "inf"}, "tap_2_x", words.PIXELS),
        ({"tap_2_x": "here"}, "tap_2_x", words.PIXELS),
        ({"tap_2_x": ""}, "tap_2_x", words.BOTH),
        ({"corner_1_y": ""}, "corner_1_y", words.BOTH),
        ({"width": "0"}, "width", "Between 2 in and 164 ft 1 in, please."),
        ({"width": "99999999999 ft"}, "width", "Between 2 in and"),
        ({"height": "nan"}, "height", "Write a length such as 7 ft 6 in."),
        ({"height": "9" * 500}, "height", "Between 2 in and"),
        ({"known": "circle"}, "known", "Select a valid choice"),
    ],
)
def test_what_is_wrong_is_said_beside_its_field(typed, field, said):
    form = read(marked(**typed))
    form.refuse_unfinished()
    assert said in " ".join(form.errors[field])
    assert form.trace is None


def test_one_tap_is_too_few_and_a_hundred_are_too_many():
    without = {name: text for name, text in marked().items() if not name.startswith("tap")}
    one = read({**without, **numbered("tap", taps_px()[:1])})
    assert not one.errors and one.plane and one.trace is None
    one.refuse_unfinished()
    assert one.errors["tap_1_x"] == [words.FEW_TAPS]
    hundred = read({**without, **numbered("tap", [(400 + 5 * i, 600) for i in range(100)])})
    assert hundred.errors["tap_61_x"] == [words.MANY_TAPS.format(more=40)]
    assert hundred["tap_100_x"].value() == "895.0"  # nothing is lost


def test_a_path_of_no_length_is_refused_in_feet():
    spot = numbered("tap", [taps_px()[0]] * 5)
    assert read(marked(**spot)).errors["tap_5_x"] == [
        "The path is 0 in long: it must be 1 ft to 328 ft 1 in."
    ]


# Two sides that meet at (1000, 500): there is the horizon, across.
CONVERGING = numbered("corner", [(200, 100), (800, 400), (800, 600), (200, 900)])
_LATER_TAPS = {"tap_3", "tap_4", "tap_5"}


@pytest.mark.parametrize(
    ("at", "said"),
    [
        ((984, 500), "so near to the horizon"),
        ((1100, 500), "Point 2 lies at or beyond the horizon"),
    ],
)
def test_a_tap_towards_the_horizon_is_refused(at, said):
    typed = marked(**CONVERGING, width="120 ft", **numbered("tap", [(300, 500), at]))
    form = read({name: text for name, text in typed.items() if name[:5] not in _LATER_TAPS})
    assert said in " ".join(form.errors["tap_2_x"])


@pytest.mark.parametrize("gap", range(1, 4))
def test_rows_left_empty_are_closed_up(gap):
    shifted = {"known": "rectangle", f"tap_{gap}_x": " 7 ", "tap_9_x": "3", "tap_9_y": "4"}
    assert typed_of(shifted) == {
        "known": "rectangle", "tap_1_x": "7", "tap_2_x": "3", "tap_2_y": "4",
    }  # fmt: skip


def test_only_our_own_fields_are_taken_and_none_that_no_database_can_hold():
    typed = typed_of({"width": "3\0 ft", "csrfmiddlewaretoken": "x", "tap_999_x": "5", "tap_x": ""})
    assert typed == {"width": "3 ft"}
