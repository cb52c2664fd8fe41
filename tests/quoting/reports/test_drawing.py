from datetime import date

import pytest

from quoting.reports.drawing import BOTTOM, HEIGHT, TOP, bars_drawing
from quoting.reports.period import Period
from quoting.reports.table import Series

YEAR = Period(date(2025, 11, 1), date(2026, 10, 31)).months


def drawing(*cents: int):
    values = (*cents, *[0] * (len(YEAR) - len(cents)))
    return bars_drawing([Series("In", "bar-full", values)], months=YEAR, currency="USD")


def test_a_bar_is_as_high_as_its_amount_on_the_scale_beside_it():
    drawn = drawing(400_00, 200_00)
    heights = {label.text: label.at for label in drawn.amounts}
    assert list(heights) == ["$0", "$100", "$200", "$300", "$400"]
    whole, half = drawn.bars
    assert whole.y == heights["$400"] == TOP
    assert whole.height == pytest.approx(2 * half.height, abs=0.11)  # drawn to a tenth
    assert whole.y + whole.height == pytest.approx(drawn.zero_y, abs=0.11)


def test_what_is_below_nothing_hangs_from_the_line():
    drawn = drawing(-150_00, 300_00)
    below = drawn.bars[0]
    assert below.y == drawn.zero_y
    assert drawn.amounts[0].text == "-$200"
    assert below.y + below.height < HEIGHT - BOTTOM


@pytest.mark.parametrize("cents", [(0,), (1,), (99,), (123_456_789_01,), (-1,)])
def test_any_amount_stays_on_the_paper_with_few_steps(cents):
    drawn = drawing(*cents)
    assert 2 <= len(drawn.amounts) <= 6
    for bar in drawn.bars:
        assert bar.y >= TOP and bar.y + bar.height <= HEIGHT - BOTTOM + 2


def test_a_year_names_each_month_and_ten_years_only_so_many():
    said = [(label.text, label.below) for label in drawing(1).months]
    assert said[0] == ("Nov", "2025")
    assert said[2] == ("Jan", "2026")
    turn = Period(date(2025, 12, 1), date(2026, 11, 30)).months
    drawn = bars_drawing([Series("In", "bar-full", (1,) * 12)], months=turn, currency="USD")
    assert [label.below for label in drawn.months[:2]] == ["", "2026"]
    assert [below for _, below in said if below] == ["2025", "2026"]
    decade = Period(date(2016, 1, 1), date(2025, 12, 31)).months
    drawn = bars_drawing([Series("In", "bar-full", (1,) * 120)], months=decade, currency="EUR")
    assert len(drawn.months) <= 12
    assert len(drawn.bars) == 120
