"""The owner picks the part of a photo that is measured: by thumb, by mouse, by keyboard."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import LAPTOP, log_in
from tests.factories import BusinessFactory, ColourFactory, UserFactory
from tests.quoting.palette.photos import saved, striped

pytestmark = pytest.mark.django_db(transaction=True)
HALVES = {"#5e7f57": 0.5, "#b4693d": 0.5}
NAMES = ("left", "top", "width", "height")


@pytest.fixture
def page(page_at):
    BusinessFactory()
    UserFactory()
    colour = ColourFactory()
    page = log_in(page_at(LAPTOP))
    page.goto(f"/catalogue/colours/{colour.pk}/measure/")
    photo = saved(striped(HALVES, size=(800, 600)))
    page.set_input_files(
        "[name=photo]", {"name": "a.png", "mimeType": "image/png", "buffer": photo}
    )
    expect(page.locator("canvas")).to_be_visible()
    return page


def area(page) -> list[float]:
    return [float(page.input_value(f"[name={name}]")) for name in NAMES]


def go_to(page, across: float, down: float) -> None:
    """Moves the mouse onto the photo, once it has stopped moving with what appears around it."""
    canvas = page.locator("canvas")
    box = canvas.bounding_box()
    canvas.hover(position={"x": box["width"] * across, "y": box["height"] * down})


def tap(page, across: float, down: float) -> None:
    go_to(page, across, down)
    page.mouse.down()
    page.mouse.up()


def measured(page) -> str:
    page.get_by_role("button", name="Measure it").click()
    expect(page.locator("#measured [name=hex]")).to_be_attached()
    return page.locator("#measured [name=hex]").get_attribute("value")


def test_a_tap_moves_the_area_and_a_drag_draws_it(page):
    tap(page, 0.25, 0.25)
    assert area(page) == pytest.approx([17, 17, 16, 16], abs=0.5)  # half a pixel of the screen
    assert measured(page) == "#5e7f57"
    go_to(page, 0.9, 0.8)
    page.mouse.down()
    go_to(page, 0.6, 0.4)
    page.mouse.up()
    assert area(page) == pytest.approx([60, 40, 30, 40], abs=0.5)
    page.locator("#measured").evaluate("part => part.replaceChildren()")
    assert measured(page) == "#b4693d"


def test_a_tap_at_the_edge_stays_within_the_photo(page):
    tap(page, 0.99, 0.01)
    assert area(page) == [84, 0, 16, 16]


def test_the_numbers_do_the_same_by_keyboard(page):
    page.fill("[name=left]", "70")
    assert measured(page) == "#b4693d"
    page.get_by_role("button", name="Use this colour").press("Enter")
    expect(page.locator(".messages")).to_contain_text("Fern looks like #b4693d now")
