"""Labels for bags: where they stand on their sheet, and that a phone reads them."""

import io
import subprocess
from pathlib import Path

import pytest
import zxingcpp
from django.urls import reverse
from PIL import Image

from decor.models.business import Paper
from inventory.labels.printing import LABELS_MOST, LabelsRefused, address_code, labels_pdf
from inventory.labels.sheets import SHEETS, LabelSheet, sheets_for
from inventory.models import Bag
from tests.factories import BagFactory, ColourFactory, ItemFactory
from tests.inventory.asking import queries_of
from tests.quoting.documents.reading import parts_of, words_of

pytestmark = pytest.mark.django_db
NEW = reverse("label_new")
DOTS_PER_INCH = 200
MM_PER_INCH = 25.4
# Pitch, and margin before the first label, in mm across and down. US sheets: 2 5/8 x 1 in labels
# 2 3/4 in apart, and 4 x 2 in labels 4 3/16 in apart; A4: in the sheets' names. Common practice,
# no source.
LAYOUT_MM = {
    "us-30": (69.85, 25.4, 4.76, 12.7),
    "us-10": (106.36, 50.8, 3.97, 12.7),
    "a4-24": (70.0, 37.0, 0.0, 0.5),
    "a4-21": (66.0, 38.1, 7.25, 15.15),
}
PAPER_MM = {Paper.LETTER: (215.9, 279.4), Paper.A4: (210.0, 297.0)}
LABEL_WIDTH_MM = {"us-30": 66.675, "us-10": 101.6, "a4-24": 70.0, "a4-21": 63.5}


@pytest.fixture
def bags(db) -> list[Bag]:
    item = ItemFactory(colour=ColourFactory(key="plum", name="Plum & very long ‹name› of it"))
    return [BagFactory(item=item, lot=f"B{n}") for n in range(33)]


def address_of(bag: Bag) -> str:
    return f"https://garlands.larkspurlane.example/b/{bag.tag}/"


def made(bags: list[Bag], sheet: LabelSheet, first: int = 1) -> bytes:
    return labels_pdf(bags=bags, sheet=sheet, first=first, address_of=address_of)


def codes_on(pdf: bytes, page: int = 1) -> list[zxingcpp.Barcode]:
    """Read by a reader that is not ours, from a picture of the page."""
    drawn = subprocess.run(
        ["pdftoppm", "-r", str(DOTS_PER_INCH), "-png", "-f", str(page), "-l", str(page), "-"],
        input=pdf,
        capture_output=True,
        check=True,
    ).stdout
    return zxingcpp.read_barcodes(Image.open(io.BytesIO(drawn)))


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.key)
def test_the_labels_of_a_sheet_fit_its_paper(sheet: LabelSheet) -> None:
    across, down, left, top = LAYOUT_MM[sheet.key]
    width, height = PAPER_MM[sheet.paper]
    last_right = left + across * (sheet.columns - 1) + LABEL_WIDTH_MM[sheet.key]
    # Left and right margins, top and bottom ones alike, to a quarter of a millimetre: a printer
    # is no truer.
    assert left == pytest.approx(width - last_right, abs=0.25)
    assert top == pytest.approx(height - top - down * sheet.rows, abs=0.25)


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.key)
def test_every_code_is_read_and_stands_in_its_label(bags: list[Bag], sheet: LabelSheet) -> None:
    pdf = made(bags, sheet)
    across, down, left, top = LAYOUT_MM[sheet.key]

    first_page = bags[: sheet.per_sheet]
    where = {code.text: code.position for code in codes_on(pdf)}

    assert where.keys() == {address_of(bag) for bag in first_page}
    for at, bag in enumerate(first_page):
        row, column = divmod(at, sheet.columns)
        corners = where[address_of(bag)]
        for corner in (corners.top_left, corners.bottom_right):
            x_mm, y_mm = (dots / DOTS_PER_INCH * MM_PER_INCH for dots in (corner.x, corner.y))
            assert 0 < x_mm - left - across * column < LABEL_WIDTH_MM[sheet.key]
            assert 0 < y_mm - top - down * row < down
    assert len(parts_of(pdf).pages) == -(-len(bags) // sheet.per_sheet)


def test_a_begun_sheet_is_used_from_its_first_free_label(bags: list[Bag]) -> None:
    sheet = SHEETS[0]
    across, down, left, top = LAYOUT_MM[sheet.key]

    (code,) = codes_on(made(bags[:1], sheet, first=5))

    x_mm = code.position.top_left.x / DOTS_PER_INCH * MM_PER_INCH
    y_mm = code.position.top_left.y / DOTS_PER_INCH * MM_PER_INCH
    assert (int((x_mm - left) / across), int((y_mm - top) / down)) == (1, 1)


def test_a_label_also_says_in_words_what_it_is_on(bags: list[Bag]) -> None:
    words = words_of(made(bags[:1], SHEETS[1]))
    assert "Plum & very long ‹name› of it 11-inch" in words
    assert "lot B0" in words and "came 2 Apr 2026" in words and bags[0].tag in words


def test_a_code_mends_itself_where_a_corner_is_torn(tmp_path: Path) -> None:
    """Level M: up to 15 % (ISO/IEC 18004). A twentieth of the area is painted over."""
    svg = address_code("https://garlands.larkspurlane.example/b/abcd2345/")
    assert 'class="code"' in svg and "larkspurlane" not in svg
    bag = BagFactory()
    pdf = made([bag], SHEETS[1])
    drawn = subprocess.run(
        ["pdftoppm", "-r", "200", "-png", "-"], input=pdf, capture_output=True, check=True
    ).stdout
    picture = Image.open(io.BytesIO(drawn)).convert("L")
    (code,) = zxingcpp.read_barcodes(picture)
    corner = code.position.bottom_right
    side = abs(corner.x - code.position.top_left.x)
    box = (corner.x - side // 5, corner.y - side // 5, corner.x + 9, corner.y + 9)
    picture.paste(255, box)

    (again,) = zxingcpp.read_barcodes(picture)
    assert again.text == address_of(bag)


def test_too_many_labels_are_refused(bags: list[Bag]) -> None:
    with pytest.raises(LabelsRefused):
        made(bags * 10, SHEETS[0])
    assert len(bags * 10) > LABELS_MOST


def test_the_businesss_own_paper_comes_first() -> None:
    assert sheets_for("a4")[0].paper == Paper.A4
    assert sheets_for("letter")[0].paper == Paper.LETTER


def test_a_scanned_label_opens_its_bag(owner_client, bags: list[Bag]) -> None:
    chosen = {"print": "yes", "bag": [bags[3].pk], "sheet": "us-30", "first": "1"}
    reply = owner_client.get(NEW, chosen)
    assert reply["Content-Type"] == "application/pdf"

    (code,) = codes_on(reply.content)
    assert code.text == f"http://testserver/b/{bags[3].tag}/"
    opened = owner_client.get(code.text.removeprefix("http://testserver"), follow=True)

    assert opened.redirect_chain[-1][0] == reverse("bag_detail", args=[bags[3].pk])


def test_the_page_offers_a_delivery_a_place_or_one_bag(owner_client, bags: list[Bag]) -> None:
    other = BagFactory(item=bags[0].item, place="Attic", lot="Z9")
    for asked, shown in (
        ({"delivery": other.delivery_id}, 1),
        ({"place": "Attic"}, 1),
        ({"place": "Cupboard"}, 33),
        ({"only": other.pk}, 1),
        ({}, 34),
        ({"delivery": "x"}, 34),
    ):
        assert owner_client.get(NEW, asked).text.count('name="bag"') == shown
    assert "No bags to label" in owner_client.get(NEW, {"place": "Moon"}).text


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"bag": []}, "Choose at least one bag."),
        ({"first": "31"}, "This sheet has labels 1 to 30."),
        ({"first": "0"}, "greater than or equal to 1"),
        ({"sheet": "x"}, "Select a valid choice"),
    ],
)
def test_what_is_wrong_is_told(owner_client, bags: list[Bag], given, told) -> None:
    asked = {"print": "yes", "bag": [bags[0].pk], "sheet": "us-30", "first": "1"} | given
    reply = owner_client.get(NEW, asked)
    assert (reply.status_code, told in reply.text) == (422, True)


def test_more_bags_ask_no_more(owner_client) -> None:
    item = ItemFactory()
    BagFactory(item=item)
    few = queries_of(owner_client, NEW)
    for _ in range(10):
        BagFactory(item=item)
    assert queries_of(owner_client, NEW) == few
