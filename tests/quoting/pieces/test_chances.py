import pytest

from quoting.estimator.ranges import range_of
from quoting.pieces.chances import chance_text, chances_of
from quoting.pieces.reading import read_piece


@pytest.mark.parametrize(
    ("share", "text"),
    [
        (0.0, "less than 1 in 200"),
        (0.0049, "less than 1 in 200"),
        (0.005, "about 1 in 200"),
        (1 / 12, "about 1 in 12"),
        (0.5, "about 1 in 2"),
        (0.51, "about 5 in 10"),
        (0.78, "about 8 in 10"),
        (0.99, "about 9 in 10"),
        (1.0, "nearly certain"),
    ],
)
def test_a_chance_is_said_as_people_say_it(share, text):
    assert chance_text(share) == text


def test_the_three_that_move_the_cost_most_come_first_and_each_row_is_in_order(surroundings):
    made = read_piece({"base": ["oat", "fern"]}, surroundings).estimate
    panel, found = chances_of(made), range_of(made)
    assert len(panel.effects) == 3
    swings = [effect.swing_cents for effect in found.effects]
    assert swings[:3] == sorted(swings, reverse=True)[:3]
    assert [row.label for row in panel.rows] == [
        "Balloons needed", "Hours of work", "Cost", "Margin kept",
    ]  # fmt: skip
    balloons = panel.rows[0]
    assert int(balloons.low) < int(balloons.likely) < int(balloons.high)
