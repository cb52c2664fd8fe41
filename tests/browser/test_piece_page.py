"""The page of a piece as its owner uses it, with a client beside her, on a laptop and a phone."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from inventory.catalogue.starter import add_starter_catalogue
from quoting.models import Piece
from quoting.pieces.service import piece_add
from tests.browser.conftest import LAPTOP, PHONE, log_in
from tests.factories import BusinessFactory, QuoteFactory, UserFactory

SIZES = pytest.mark.parametrize("size", [LAPTOP, PHONE], ids=["laptop", "phone"])
ON_A_LAPTOP = pytest.mark.parametrize("size", [LAPTOP], ids=["laptop"])
ON_A_PHONE = pytest.mark.parametrize("size", [PHONE], ids=["phone"])


@pytest.fixture
def piece(transactional_db):
    BusinessFactory()
    UserFactory()
    add_starter_catalogue()
    return piece_add(quote=QuoteFactory(), shape="walk_arch")


@pytest.fixture
def open_piece(page_at, piece):
    """The piece's page, logged in, with two colours ticked and its picture drawn."""

    def opened(size: dict[str, int]) -> Page:
        page = log_in(page_at(size))
        page.goto(reverse("piece_edit", args=[piece.pk]))
        for colour in ("Oat", "Fern"):
            palette = page.get_by_role("group", name="Palette")
            palette.get_by_label(colour, exact=True).check()
        # Of both colours, and not what was there after the first of them.
        for colour in ("oat", "fern"):
            drawn = page.locator(f"#piece-picture .balloon[data-colour={colour}]")
            expect(drawn).not_to_have_count(0)
        expect(price_of(page)).to_have_text(re.compile(r"^\$\d"))
        return page

    return opened


def price_of(page: Page):
    return page.locator("#estimate-figures .number")


def balloons_of(page: Page):
    return page.locator("#piece-picture .balloon")


def show_all(page: Page) -> None:
    opener = page.get_by_role("button", name="Show all")
    if opener.is_visible():
        opener.click()


def saved(page: Page) -> None:
    """What was typed has come to the server, and nothing of it is kept on the device only."""
    page.wait_for_function(
        "() => !Object.keys(localStorage)"
        ".some((name) => name.startsWith('garlandwright.keep.piece'))"
    )


@SIZES
def test_the_estimate_follows_what_is_typed_and_the_picture_the_estimate(open_piece, size):
    page = open_piece(size)
    price, balloons = price_of(page).inner_text(), balloons_of(page).count()
    box = page.locator("#piece-picture").bounding_box()
    page.get_by_label("Width at the ground").press_sequentially("14 ft", delay=30)
    expect(price_of(page)).not_to_have_text(price)
    expect(balloons_of(page)).not_to_have_count(balloons)
    after = page.locator("#piece-picture").bounding_box()
    assert (after["width"], after["height"]) == (box["width"], box["height"]), "nothing shifts"
    assert balloons_of(page).count() > balloons


@ON_A_PHONE
def test_nothing_of_what_is_typed_fast_is_lost(open_piece, piece, size):
    page = open_piece(size)
    field = page.get_by_label("Width at the ground")
    field.press_sequentially("11 ft 7 in", delay=15)
    page.get_by_label("Height in the middle").press_sequentially("9 ft 2 in", delay=15)
    expect(field).to_have_value("11 ft 7 in")
    expect(page.locator("#estimate-body")).to_contain_text("11 ft 7 in wide and 9 ft 2 in high")
    saved(page)
    kept = Piece.objects.get(pk=piece.pk).typed
    assert (kept["arch_width"], kept["arch_height"]) == ("11 ft 7 in", "9 ft 2 in")


@ON_A_PHONE
def test_an_error_keeps_the_last_estimate_and_its_picture(open_piece, size):
    page = open_piece(size)
    price, balloons = price_of(page).inner_text(), balloons_of(page).count()
    page.get_by_label("Width at the ground").fill("wide")
    note = page.locator("#note-arch_width")
    expect(note).to_contain_text("Write a length such as")
    expect(page.locator("#estimate-figures")).to_contain_text("out of date")
    expect(price_of(page)).to_have_text(price)
    expect(balloons_of(page)).to_have_count(balloons)
    page.get_by_label("Width at the ground").fill("12 ft")
    expect(page.locator("#estimate-figures")).not_to_contain_text("out of date")


@ON_A_PHONE
def test_a_reload_loses_nothing(open_piece, size):
    page = open_piece(size)
    page.get_by_label("Width at the ground").fill("13 ft")
    page.get_by_label("Height in the middle").fill("tall")
    expect(page.locator("#note-arch_height")).to_contain_text("Write a length such as")
    page.reload()
    expect(page.get_by_label("Width at the ground")).to_have_value("13 ft")
    expect(page.get_by_label("Height in the middle")).to_have_value("tall")
    expect(balloons_of(page)).not_to_have_count(0)


@ON_A_LAPTOP
def test_a_figure_opens_and_closes_by_keyboard(open_piece, size):
    page = open_piece(size)
    figure = price_of(page).get_by_role("link")
    figure.focus()
    page.keyboard.press("Enter")
    dialog = page.get_by_role("dialog")
    expect(dialog).to_contain_text("Price with tax")
    expect(dialog).to_contain_text("What would change it")
    dialog.locator("a.figure").first.focus()
    page.keyboard.press("Enter")
    expect(dialog).to_contain_text("Price before tax")
    page.keyboard.press("Escape")
    expect(dialog).to_be_hidden()
    expect(figure).to_be_focused()
    expect(page).to_have_url(re.compile(r"/pieces/\d+/$"))


@ON_A_PHONE
def test_a_figure_opens_after_its_number_has_changed_too(open_piece, size):
    page = open_piece(size)
    price = price_of(page).inner_text()
    page.get_by_label("Width at the ground").fill("15 ft")
    expect(price_of(page)).not_to_have_text(price)
    price_of(page).get_by_role("link").click()
    expect(page.get_by_role("dialog")).to_contain_text(price_of(page).inner_text())


@ON_A_PHONE
def test_a_budget_is_tried_used_and_put_back(open_piece, size):
    page = open_piece(size)
    before = price_of(page).inner_text()
    show_all(page)
    page.locator("summary", has_text="Fit to a budget").click()
    page.get_by_label("Total with tax").fill("5")
    page.get_by_role("button", name="See what that makes").click()
    expect(page.locator("#fit-result")).to_contain_text("smallest possible price")
    page.get_by_label("Total with tax").fill("700")
    page.get_by_role("button", name="See what that makes").click()
    expect(page.locator("#fit-result")).to_contain_text("under the budget")
    expect(price_of(page)).to_have_text(before)
    page.get_by_role("button", name="Use it").click()
    expect(price_of(page)).not_to_have_text(before)
    page.get_by_role("button", name="Put it back").click()
    expect(price_of(page)).to_have_text(before)
    expect(page.get_by_label("Width in the middle")).to_have_value("")


@SIZES
def test_a_variant_is_added_changed_and_compared(open_piece, size):
    page = open_piece(size)
    saved(page)
    page.get_by_role("button", name="Add a variant").click()
    expect(page.get_by_role("link", name="Variant B")).to_have_attribute("aria-current", "page")
    price = price_of(page).inner_text()
    page.get_by_text("deep and generous").click()
    expect(price_of(page)).not_to_have_text(price)
    lush = price_of(page).inner_text()
    page.get_by_role("link", name="See them side by side").click()
    cards = page.locator(".variant-card")
    expect(cards).to_have_count(2)
    expect(cards.nth(0)).to_contain_text(price)
    expect(cards.nth(1)).to_contain_text(lush)
    for card in (cards.nth(0), cards.nth(1)):
        expect(card.locator(".balloon")).not_to_have_count(0)
    page.get_by_role("button", name="Let this one count").click()
    expect(cards.nth(1)).to_contain_text("counts")
    expect(cards.nth(0)).to_contain_text("less")


@ON_A_LAPTOP
def test_the_picture_is_saved_and_its_figure_chosen(open_piece, size):
    page = open_piece(size)
    show_all(page)
    balloons = balloons_of(page).count()
    page.get_by_label("Beside it").select_option("Nothing")
    door = page.locator("#piece-picture svg > rect")
    expect(door).to_have_count(0)
    expect(balloons_of(page)).to_have_count(balloons)
    with page.expect_download() as download:
        page.get_by_role("link", name="PNG").click()
    assert download.value.path().read_bytes().startswith(b"\x89PNG")
