import pytest

from quoting.estimator import example_catalogue
from quoting.pieces.panel import BAR_WIDTH, panel_of, readable_ink
from quoting.pieces.reading import read_piece


@pytest.fixture
def panel(surroundings):
    typed = {
        "shape": "walk_arch",
        "base": ["oat", "fern"],
        "accents": ["oat"],
        "burst_copper": "2",
        "crew": "2",
    }
    return panel_of(read_piece(typed, surroundings).estimate, example_catalogue(), units="imperial")


def test_every_balloon_to_order_is_in_one_cell(panel):
    cells = [cell for row in panel.balloons.rows for cell in row.cells if cell]
    assert sum(cell.total for cell in cells) == panel.order_total
    assert panel.order_total == sum(line.total for line in panel.made.balloons)
    assert panel.low <= panel.need <= panel.high < panel.order_total * 2


def test_base_and_accents_of_one_item_share_a_cell(panel):
    oat = next(row for row in panel.balloons.rows if row.name == "Oat")
    cell = oat.cells[panel.balloons.sizes.index("11 in")]
    assert cell.uses == "base and accents"


def test_foil_points_stand_last(panel):
    assert panel.balloons.sizes == ("5 in", "11 in", "17 in", "24 in", "points")


def test_the_hours_fill_the_bar(panel):
    last = panel.hours[-1]
    assert panel.hours[0].x == 0
    assert last.x + last.width <= BAR_WIDTH
    assert sum(part.hours for part in panel.hours) == pytest.approx(panel.made.person_hours)


def test_the_cost_rows_add_up_to_the_cost_and_the_steps_to_the_price(panel):
    price = panel.made.price
    assert sum(row.cents for row in panel.costs) == price.cost_cents
    assert price.cost_cents + sum(row.cents for row in panel.steps) == price.total_cents


def test_the_drivers_are_the_dearest_lines(panel):
    dearest = sorted((line.amount_cents for line in panel.made.price.cost_lines), reverse=True)
    assert [driver.cents for driver in panel.drivers] == dearest[:3]


def test_the_recipe_is_in_words(panel):
    text = "\n".join(panel.recipe)
    assert "clusters of 8:" in text
    assert "of 11-11" in text
    assert "accent bunches of 4 in oat" in text
    assert "2 starbursts of 12 points in copper, by hand pump" in text


@pytest.mark.parametrize("red", range(0, 256, 51))
@pytest.mark.parametrize("green", range(0, 256, 51))
@pytest.mark.parametrize("blue", range(0, 256, 51))
def test_a_number_can_be_read_on_any_balloon(red, green, blue):
    """WCAG 2.2, success criterion 1.4.3: 4.5 to 1. Black or white always reaches it."""
    ink = readable_ink(f"#{red:02x}{green:02x}{blue:02x}")
    luminance = _luminance(red, green, blue)
    lighter, darker = (1.05, luminance + 0.05) if ink == "#ffffff" else (luminance + 0.05, 0.05)
    assert lighter / darker >= 4.5


def _luminance(*channels: int) -> float:
    """WCAG 2.2, relative luminance."""
    parts = [c / 255 for c in channels]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return sum(w * p for w, p in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def test_cautions_speak_in_the_units_of_the_business(surroundings):
    typed = {"base": ["oat"], "shape": "walk_arch", "arch_height": "10 ft"}
    panel = panel_of(
        read_piece(typed, surroundings).estimate, example_catalogue(), units="imperial"
    )
    ladder = next(caution for caution in panel.cautions if "ladder" in caution.text)
    assert "10 ft" in ladder.text
    assert ladder.word == "Take care"
