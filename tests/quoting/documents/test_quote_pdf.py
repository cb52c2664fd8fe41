"""The client's PDF, read by pypdf and pdftotext: what it says, never says, how it is made."""

import os
import pickle
import re
import subprocess
import sys
from dataclasses import replace
from datetime import date
from io import BytesIO
from itertools import pairwise
from pathlib import Path

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from PIL import Image

from decor.display import money_text
from decor.documents.fetcher import media_url
from decor.documents.pdf import render_pdf
from quoting.documents.quote_document import MOST_LINES, TEMPLATE, TooManyLines, quote_document
from quoting.models import Quote
from quoting.quotes.editions import Draft, draft_of
from tests.factories import ExtraLineFactory, PieceFactory, RateCardFactory
from tests.quoting.documents.conftest import SENT_ON
from tests.quoting.documents.reading import parts_of, structure_of, words_of

# 16 CFR 1500.19(b)(2), the labelling statement for latex balloons (paragraph number from memory).
CHOKING_BY_LAW = (
    "CHOKING HAZARD",
    "Children under 8 yrs. can choke or suffocate on uninflated or broken balloons. Adult "
    "supervision required. Keep uninflated balloons from children. Discard broken balloons at "
    "once.",
)


@pytest.fixture
def full_quote(quote: Quote) -> Quote:
    quote.message = "It was good to see the porch."
    quote.discount_kind, quote.discount_bp, quote.discount_reason = (
        "percent",
        500,
        "Library friends",
    )
    quote.save()
    PieceFactory(
        quote=quote,
        title="Swag over the desk",
        spec={**quote.pieces.get().spec, "path": {"kind": "swag", "span_m": 4.2, "sag_m": 0.9}},
    )
    ExtraLineFactory(quote=quote, label="Hand-lettered cards", quantity=24, unit_cents=125)
    return quote


@pytest.fixture
def full_draft(full_quote: Quote, today: date) -> Draft:
    return draft_of(full_quote, today=today)


# ---- What it says ----


def test_it_says_who_what_when_where_and_how_much(full_draft: Draft, pdf_of) -> None:
    said = words_of(pdf_of(full_draft))

    for words in (
        "Larkspur Lane Garlands",
        "Quote LL-1042, edition 1",
        "Wexcombe Bay Library",
        "Reading-week arch",
        "Saturday 20 June 2026",
        "at 2 p.m.",
        "Library porch",
        "2 Harbour Street, Wexcombe Bay",
        "It was good to see the porch.",
        "Garland over the door",
        "Swag over the desk",
        "oat and fern",
        "along the garland",
        "Hand-lettered cards",
        "24 × $1.25",
        "Library friends (5 %)",
        "Good until Friday 19 June 2026",
        "The day is kept for you once the deposit has arrived.",
        "Garlands last one day.",
    ):
        assert words in said, words


def test_its_lines_add_up_to_the_total_and_the_payments_to_it(full_draft: Draft, pdf_of) -> None:
    """Read back from the PDF's own words, so nothing of ours does the sum twice."""
    said = words_of(pdf_of(full_draft))
    table = said[said.index("Before tax") : said.index("How to accept")]
    lines, rest = table.split("Sum before tax")
    amounts = [
        _cents(text) for text in re.findall(r"-?\$[\d,]+\.\d\d", lines.replace("24 × $1.25", ""))
    ]
    net, tax, total, deposit, balance = (
        _cents(text) for text in re.findall(r"-?\$[\d,]+\.\d\d", rest)[:5]
    )

    assert len(amounts) == 4  # two pieces, an extra line, a discount
    assert sum(amounts) == net
    assert net + tax == total == full_draft.result["price"]["total_cents"]
    assert deposit + balance == total


def test_where_prices_include_tax_every_amount_is_what_the_client_pays(
    full_quote: Quote, today: date, pdf_of
) -> None:
    """Such a price must be said with its tax: EU Directive 98/6/EC, article 2 (a), from memory."""
    rates = {**full_quote.rate_card.rates, "tax_bp": 2300, "tax_inclusive": True}
    full_quote.rate_card = RateCardFactory(version=2, rates=rates)
    full_quote.save()
    draft = draft_of(full_quote, today=today)
    price = draft.result["price"]
    said = words_of(pdf_of(draft))
    table = said[said.index("With tax") : said.index("How to accept")]
    amounts = [_cents(text) for text in re.findall(r"-?\$[\d,]+\.\d\d", table)]

    assert "before tax" not in said.lower()
    assert "Hand-lettered cards × 24" in said
    assert sum(amounts[:4]) == amounts[4] == price["total_cents"]
    assert amounts[5] == price["tax_cents"]
    assert f"Of the total, {money_text(price['tax_cents'], 'USD')} is tax at 23 %." in said
    # Each alone is its price before tax and 23 % of it, to the cent that keeps the sum.
    for shown, net in zip(amounts, draft.result["shares_cents"], strict=False):
        assert shown == pytest.approx(net * 1.23, abs=1)
    for title, cents in zip(("Garland over the door", "Swag over the desk"), amounts, strict=False):
        assert f"{title} {money_text(cents, 'USD')}" in said


def _cents(text: str) -> int:
    return int(re.sub(r"[$,.]", "", text))


def test_it_says_when_what_is_due(full_draft: Draft, pdf_of) -> None:
    said = words_of(pdf_of(full_draft))

    assert "when you accept, by Friday 19 June 2026" in said
    assert "by Monday 15 June 2026" in said  # five days before the event
    assert "If you accept after Monday 15 June 2026, the whole amount is due then." in said


def test_it_says_how_to_accept_in_three_steps(full_draft: Draft, pdf_of) -> None:
    said = words_of(pdf_of(full_draft))

    steps = said[said.index("How to accept") : said.index("For everyone")]
    assert "Read it through" in steps
    assert "Say yes by Friday 19 June 2026" in steps
    assert "nell@larkspurlane.example" in steps
    assert "you accept LL-1042, edition 1" in steps
    assert f"Pay {money_text(full_draft.result['payment']['deposit_cents'], 'USD')}" in steps


def test_the_owners_own_words_on_accepting_take_the_place_of_ours(draft: Draft, pdf_of) -> None:
    business = {**draft.inputs["business"], "how_to_accept": "Drop a note at the shop."}

    said = words_of(pdf_of(replace(draft, inputs={**draft.inputs, "business": business})))

    assert "Drop a note at the shop." in said
    assert "nell@larkspurlane.example, and say" not in said


def test_it_warns_of_choking_in_the_words_of_the_law(draft: Draft, pdf_of) -> None:
    said = words_of(pdf_of(draft))

    hazard, words = CHOKING_BY_LAW
    assert hazard.lower() in said.lower()
    assert words in said


@pytest.mark.parametrize(
    "words",
    [
        "Latex allergy",
        "we cannot make a place free of it",  # NIOSH: never promise "latex-safe"
        "Released balloons harm animals",
        "check your local rules",
        "Keep it away from power lines",
    ],
)
def test_it_warns_of_allergy_releases_and_power_lines(words: str, draft: Draft, pdf_of) -> None:
    assert words in words_of(pdf_of(draft))


def test_a_preview_says_that_it_is_one_and_names_no_edition(draft: Draft) -> None:
    context = quote_document(draft.inputs, draft.result, edition=None, made_on=None)

    said = words_of(render_pdf(TEMPLATE, context, "letter"))

    assert "Preview: this has not been sent" in said
    assert "edition" not in said.replace("a new edition", "")


def test_with_no_tax_it_does_not_speak_of_tax(quote: Quote, today: date, pdf_of) -> None:
    rates = {**quote.rate_card.rates, "tax_bp": 0}
    quote.rate_card = RateCardFactory(version=2, rates=rates)
    quote.save()

    assert " tax" not in words_of(pdf_of(draft_of(quote, today=today)))


# ---- What it never says ----


def test_it_never_says_cost_hours_margin_or_stock(full_draft: Draft, pdf_of) -> None:
    said = words_of(pdf_of(full_draft)).lower()

    for word in (
        "margin",
        "markup",
        "cost",
        "overhead",
        "labour",
        "hour",
        "stock",
        "bag",
        "profit",
    ):
        assert not re.search(rf"\b{word}s?\b", said), word


def test_it_never_says_an_amount_from_behind_the_price(full_draft: Draft, pdf_of) -> None:
    said = words_of(pdf_of(full_draft))
    price = full_draft.result["price"]
    shown = {"extra", "discount", "tax"}
    hidden = [line["amount_cents"] for line in price["lines"] if line["kind"] not in shown]

    assert len(hidden) > 10
    for cents in {*hidden, price["cost_cents"]}:
        assert not re.search(rf"(?<![\d,]){re.escape(money_text(cents, 'USD'))}", said), cents


def test_it_never_says_a_count_of_balloons(full_draft: Draft, pdf_of) -> None:
    said = words_of(pdf_of(full_draft))

    for estimate in full_draft.result["estimates"]:
        assert str(estimate["count"]["body"]) not in re.findall(r"\d+", said)


# ---- How it is made ----


def test_it_is_tagged_for_those_who_cannot_see_it(draft: Draft, pdf_of) -> None:
    """PDF/UA-1 (ISO 14289-1): marked, a tag tree, a language, a title that is shown."""
    parts = parts_of(pdf_of(draft))
    root = parts.trailer["/Root"]

    assert root["/MarkInfo"]["/Marked"]
    assert root["/StructTreeRoot"]["/K"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert parts.metadata.title == "Quote LL-1042, edition 1: Reading-week arch"
    assert parts.metadata.author == "Larkspur Lane Garlands"
    metadata = root["/Metadata"].get_data().decode()
    assert re.search(r'pdfuaid:part="1"|<pdfuaid:part>1<', metadata)


def test_its_headings_tables_lists_and_figures_are_tagged(full_draft: Draft, pdf_of) -> None:
    elements = list(structure_of(pdf_of(full_draft)))
    tags = [element["/S"] for element in elements]

    assert tags.count("/H1") == 1
    headings = [int(tag[2:]) for tag in tags if re.fullmatch(r"/H\d", tag)]
    assert all(after - before <= 1 for before, after in pairwise(headings))
    assert {"/Table", "/TH", "/TD", "/L", "/LI", "/P"} <= set(tags)
    figures = [element for element in elements if element["/S"] == "/Figure"]
    assert len(figures) >= 2
    assert all(figure.get("/Alt") for figure in figures)


def test_its_fonts_are_our_own_and_embedded(full_draft: Draft, pdf_of) -> None:
    fonts = {}
    for page in parts_of(pdf_of(full_draft)).pages:
        for font in page["/Resources"]["/Font"].values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            fonts[inner["/BaseFont"].partition("+")[2]] = inner["/FontDescriptor"]

    assert {name.partition("-")[0] for name in fonts} == {"Document"}
    assert {name.split("-")[1] for name in fonts} == {"Serif", "Sans"}
    assert all("/FontFile3" in font or "/FontFile2" in font for font in fonts.values())


def test_a_machine_with_no_fonts_makes_the_same_file(draft: Draft, pdf_of, tmp_path: Path) -> None:
    """Fontconfig is given a configuration with no font folders in it."""
    context = quote_document(draft.inputs, draft.result, edition=1, made_on=SENT_ON)
    (tmp_path / "context").write_bytes(pickle.dumps(context))
    (tmp_path / "fonts.conf").write_text("<fontconfig></fontconfig>")
    script = (
        "import pickle, sys, django; django.setup()\n"
        "from decor.documents.pdf import render_pdf\n"
        "context = pickle.load(open(sys.argv[1], 'rb'))\n"
        f"sys.stdout.buffer.write(render_pdf({TEMPLATE!r}, context, 'letter'))\n"
    )
    env = {
        **os.environ,
        "DJANGO_SETTINGS_MODULE": "tests.settings",
        "FONTCONFIG_FILE": str(tmp_path / "fonts.conf"),
    }

    made = subprocess.run(
        [sys.executable, "-W", "ignore", "-c", script, str(tmp_path / "context")],
        capture_output=True,
        check=True,
        env=env,
        cwd=Path(__file__).parents[3],
    ).stdout

    assert made == pdf_of(draft)


def test_the_same_quote_is_the_same_file(draft: Draft, pdf_of) -> None:
    context = quote_document(draft.inputs, draft.result, edition=1, made_on=SENT_ON)

    assert render_pdf(TEMPLATE, context, "letter") == render_pdf(TEMPLATE, context, "letter")


@pytest.mark.parametrize(("paper", "points"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_it_is_set_on_the_businesss_own_paper(paper: str, points: tuple, draft: Draft) -> None:
    """ISO 216 A4, 210 by 297 mm; US Letter, 8.5 by 11 in; to the nearest point of 1/72 in."""
    context = quote_document(draft.inputs, draft.result, edition=1, made_on=SENT_ON)

    box = parts_of(render_pdf(TEMPLATE, context, paper)).pages[0].mediabox

    assert (round(box.width), round(box.height)) == points


def test_the_logo_stands_on_it_with_its_name(draft: Draft, pdf_of) -> None:
    mark = Image.new("RGB", (60, 20), "#0e5058")
    drawn = BytesIO()
    mark.save(drawn, "PNG")
    name = default_storage.save("logo/mark.png", ContentFile(drawn.getvalue()))

    business = {**letterhead(draft), "logo_url": media_url(name)}
    pdf = pdf_of(draft, business=business)

    assert len(parts_of(pdf).pages[0].images) == 1
    alts = [element.get("/Alt") for element in structure_of(pdf)]
    assert "Logo of Larkspur Lane Garlands" in alts


def letterhead(draft: Draft) -> dict[str, str]:
    return quote_document(draft.inputs, draft.result, edition=1, made_on=SENT_ON)["business"]


def test_a_lost_logo_does_not_stop_a_quote(quote: Quote, business, today: date, pdf_of) -> None:
    business.logo.save("lost.png", ContentFile(b"a picture"))
    default_storage.delete(business.logo.name)

    draft = draft_of(quote, today=today)

    assert draft.inputs["business"]["logo"] == ""
    assert pdf_of(draft)


def test_long_names_stay_on_the_page(quote: Quote, today: date, pdf_of) -> None:
    quote.pieces.update(title="Garland " * 14)
    quote.job.title = "Llanfairpwllgwyngyllgogerychwyrndrobwllllantysiliogogogoch " * 2
    quote.job.save()

    pdf = pdf_of(draft_of(quote, today=today))

    boxes = subprocess.run(
        ["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True
    ).stdout.decode()
    rights = [float(x) for x in re.findall(r'xMax="([\d.]+)"', boxes)]
    assert rights
    assert max(rights) <= 612 - 60  # the margin is 22 mm


def test_a_quote_of_as_many_lines_as_it_has_room_for_is_made(
    quote: Quote, today: date, pdf_of
) -> None:
    for number in range(MOST_LINES - 1):
        ExtraLineFactory(quote=quote, label=f"Extra {number}")

    assert f"Extra {MOST_LINES - 2}" in words_of(pdf_of(draft_of(quote, today=today)))


def test_one_line_more_is_refused(draft: Draft) -> None:
    offer = draft.inputs["offer"]
    line = {"id": 1, "label": "a", "quantity": 1, "unit_cents": 1, "amount_cents": 1}
    crowded = {**draft.inputs, "offer": {**offer, "extra_lines": [line] * MOST_LINES}}

    with pytest.raises(TooManyLines):
        quote_document(crowded, draft.result, edition=1, made_on=SENT_ON)
