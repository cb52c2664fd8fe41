"""A path is traced on a photo by thumb and by keyboard; nothing is lost when the page is loaded
again. The photo is the demo's, whose camera is known, so the length is too."""

import pytest
from playwright.sync_api import Page, expect

from decor.jobs.photos import photos_add
from decor.models import Business
from inventory.catalogue.starter import add_starter_catalogue
from quoting.demo import arbour_photo as arbour
from quoting.models import Piece, TracedPhoto
from quoting.pieces.service import piece_add, piece_type
from quoting.pieces.surroundings import surroundings_of
from quoting.traces.paths import path_of, trace_of
from tests.browser.conftest import LAPTOP, PHONE, log_in
from tests.factories import BusinessFactory, QuoteFactory, UserFactory

USED = "The piece follows the path on the photo now."


@pytest.fixture
def piece(transactional_db, today) -> Piece:
    business: Business = BusinessFactory()
    UserFactory()
    add_starter_catalogue()
    piece = piece_add(quote=QuoteFactory(), shape="walk_arch")
    photos_add(job=piece.quote.job, pictures=[arbour.arbour_photo()])
    surroundings = surroundings_of(piece.quote, business=business, today=today)
    typed = {"shape": "walk_arch", "base": ["oat", "fern"]}
    return piece_type(piece=piece, typed=typed, surroundings=surroundings).piece


class Tracing:
    """The page as the owner has it in hand."""

    def __init__(self, page: Page, piece: Piece) -> None:
        self.page, self.piece = page, piece

    def open(self) -> None:
        log_in(self.page)
        self.page.goto(f"/pieces/{self.piece.pk}/")
        self.page.get_by_role("link", name="Trace the path on it").click()
        self.page.get_by_role("link", name="Trace on photo 1").click()
        self.show_photo()

    def show_photo(self) -> None:
        stage = self.page.locator(".trace-stage")
        stage.evaluate("stage => stage.scrollIntoView({block: 'center', behavior: 'instant'})")

    def on_screen(self, spot: tuple[float, float]) -> tuple[float, float]:
        box = self.page.locator("[data-trace-photo]").bounding_box()
        scale = box["width"] / arbour.PHOTO_PX[0]
        return box["x"] + spot[0] * scale, box["y"] + spot[1] * scale

    def tap(self, spot: tuple[float, float]) -> None:
        self.page.touchscreen.tap(*self.on_screen(spot))

    def step(self, name: str) -> None:
        self.page.get_by_role("button", name=name).click()
        self.show_photo()

    def handle(self, name: str):
        return self.page.locator(f'.trace-handle[aria-label^="{name}:"]')

    def length_says(self, words: str) -> None:
        expect(self.page.locator("#trace-readout")).to_contain_text(words)

    def use(self) -> None:
        self.page.get_by_role("button", name="Use this path").click()
        expect(self.page.get_by_role("status").first).to_contain_text(USED)


@pytest.fixture
def phone(browser, live_server, piece):
    context = browser.new_context(
        viewport=PHONE, base_url=live_server.url, has_touch=True, is_mobile=True
    )
    page = context.new_page()
    errors = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    yield Tracing(page, piece)
    context.close()
    assert not errors, errors


def traced_length_m(piece: Piece) -> float:
    piece.refresh_from_db()
    return path_of(trace_of(piece), piece).trace.length_m


def test_a_path_is_traced_by_thumb(phone, piece):
    phone.open()
    for corner in arbour.door_corners():
        phone.tap(corner)
    expect(phone.page.locator(".trace-handle.is-corner")).to_have_count(4)
    phone.step("2 Size")
    expect(phone.page.get_by_label("Height")).to_have_value("6 ft 8 in")
    phone.step("3 Path")
    for tap in arbour.path_taps():
        phone.tap(tap)
    expect(phone.page.locator(".trace-handle.is-tap")).to_have_count(len(arbour.PATH_FT))
    phone.length_says("along the path, give or take")
    phone.use()
    expect(phone.page.locator(".trace-picture .balloon").first).to_be_visible()
    # A tap is true to a pixel of the screen, 4 of the photo's: some 2 % of this door's width.
    assert traced_length_m(piece) == pytest.approx(arbour.true_length_m(), rel=0.04)


def test_targets_are_as_large_as_a_thumb_and_the_page_never_scrolls_sideways(phone):
    phone.open()
    phone.tap(arbour.door_corners()[0])
    hit = phone.page.locator(".trace-handle .trace-hit").bounding_box()
    assert min(hit["width"], hit["height"]) >= 43.9  # 44 but for what floats leave of it
    for button in phone.page.locator(".trace-tools button, .trace-step").all():
        box = button.bounding_box()
        assert min(box["width"], box["height"]) >= 43.9, button.inner_text()
    wide = phone.page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert wide[0] <= wide[1]


def test_what_was_tapped_is_there_after_a_reload_and_can_be_undone(phone):
    phone.open()
    corners = arbour.door_corners()
    for corner in corners:
        phone.tap(corner)
    phone.page.get_by_role("button", name="Undo").click()
    handles = phone.page.locator(".trace-handle.is-corner")
    expect(handles).to_have_count(3)
    phone.length_says("Tap corner 4")
    phone.page.reload()
    expect(handles).to_have_count(3)
    phone.page.get_by_role("button", name="Clear the marks").click()
    expect(handles).to_have_count(0)
    phone.page.get_by_role("button", name="Undo").click()
    expect(handles).to_have_count(3)


def test_a_point_is_dragged_under_a_loupe(page_at, piece):
    tracing = Tracing(page_at(LAPTOP), piece)
    tracing.open()
    mouse, corner = tracing.page.mouse, arbour.door_corners()[0]
    mouse.click(*tracing.on_screen(corner))
    loupe = tracing.page.locator("[data-trace-loupe]")
    expect(loupe).to_be_hidden()
    mouse.move(*tracing.on_screen(corner))
    mouse.down()
    mouse.move(*tracing.on_screen((corner[0] + 60, corner[1] + 40)), steps=3)
    expect(loupe).to_be_visible()
    mouse.up()
    expect(loupe).to_be_hidden()
    across = tracing.page.locator("#id_corner_1_x")
    assert float(across.input_value()) == pytest.approx(corner[0] + 60, abs=3)
    tracing.page.get_by_role("button", name="Enlarge the photo").click()
    expect(tracing.handle("Corner 1")).to_be_in_viewport()


def test_a_path_is_traced_by_keyboard_alone(page_at, piece):
    page = page_at(LAPTOP)
    tracing = Tracing(page, piece)
    tracing.open()
    add = page.get_by_role("button", name="Add a point")
    for number in (1, 2, 3, 4):
        add.press("Enter")
        expect(tracing.handle(f"Corner {number}")).to_be_focused()
    first = page.locator("#id_corner_1_x")
    before = float(first.input_value())
    tracing.handle("Corner 1").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowRight")
    assert float(first.input_value()) == before + 11
    page.get_by_role("button", name="3 Path").press("Enter")
    for _ in range(3):
        add.press("Enter")
    page.keyboard.press("Delete")
    expect(page.locator(".trace-handle.is-tap")).to_have_count(2)
    expect(tracing.handle("Point 2")).to_be_focused()
    tracing.length_says("along the path, give or take")
    page.get_by_role("button", name="Use this path").press("Enter")
    expect(page.get_by_role("status").first).to_contain_text(USED)
    assert TracedPhoto.objects.get().used_at


def test_typed_numbers_are_drawn_and_a_wrong_one_is_shown_where_it_is(page_at, piece):
    page = page_at(LAPTOP)
    tracing = Tracing(page, piece)
    tracing.open()
    page.get_by_text("Type the numbers instead").click()
    for name, text in arbour.arbour_marks().items():
        if "_" in name:
            page.locator(f"#id_{name}").fill(text)
    expect(page.locator(".trace-handle")).to_have_count(4 + len(arbour.PATH_FT))
    tracing.length_says("along the path, give or take")
    page.locator("#id_corner_2_y").fill("9000")
    expect(page.locator("#note-corner_2")).to_contain_text("the photo ends there")
    expect(page.locator("#id_corner_2_y")).to_have_attribute("aria-invalid", "true")
    page.locator("#trace-readout").get_by_role("link", name="Corner 2").click()
    expect(tracing.handle("Corner 2")).to_be_focused()
