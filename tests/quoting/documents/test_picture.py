"""The picture on the quote: the counted balloons to scale, in words for who cannot see it."""

import re
from typing import Any

import pytest

from quoting.documents import picturing
from quoting.documents.measures import measures_of
from quoting.documents.picturing import Box, Drawing, Seen, drawings_of, seen_of
from quoting.documents.quote_document import quote_document
from quoting.estimator import example_catalogue, example_rates, spec_from_dict
from quoting.quotes.editions import Draft
from tests.factories import arch_spec
from tests.quoting.documents.conftest import SENT_ON
from tests.quoting.documents.reading import parts_of, structure_of

BOX = Box(158.0, 66.0)
PATHS = [
    {"kind": "line", "length_m": 3.0},
    {"kind": "arch", "width_m": 2.4, "height_m": 2.1},
    {"kind": "posts", "width_m": 3.0, "height_m": 2.4},
    {"kind": "swag", "span_m": 4.2, "sag_m": 0.9},
    {"kind": "ring", "diameter_m": 2.0},
    {"kind": "drape", "points_m": [[0, 0, 2.2], [1.2, 0, 1.6], [2.4, 0, 2.3]]},
]


def seen(**changes: Any) -> Seen:
    spec = spec_from_dict({**arch_spec(), **changes})
    return seen_of(spec, catalogue=example_catalogue(), rates=example_rates())


def drawn(piece: Seen, **how: Any) -> Drawing:
    how = {"box": BOX, "units": "metric", "id_prefix": "p-", **how}
    return drawings_of([(piece, "A garland")], **how)[0]


def scale_of(drawing: Drawing) -> float:
    """Millimetres on paper for one of the real thing's."""
    found = re.search(r'width="([\d.]+)" .*?viewBox="\S+ \S+ (\S+) ', drawing.inner)
    return float(found[1]) / float(found[2])


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path["kind"])
def test_every_shape_fits_its_box_with_both_measures(path: dict[str, Any]) -> None:
    piece = seen(path=path)

    drawing = drawn(piece)

    assert drawing.width <= BOX.width + 0.01
    assert drawing.height <= BOX.height + 0.01
    assert [mark.text for mark in drawing.marks] == [
        f"{piece.width_m:.2f} m",
        f"{piece.height_m:.2f} m",
    ]


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path["kind"])
def test_the_marks_are_as_long_as_they_say_beside_the_scale_bar(path: dict[str, Any]) -> None:
    """The picture's own scale bar, `50 cm` or `1 m`, is what a client would hold a ruler to."""
    drawing = drawn(seen(path=path))
    across, _ = drawing.marks
    left, right = map(float, re.search(r"M([\d.]+) [\d.]+H([\d.]+)", across.line).groups())
    bar = float(re.search(r"h([\d.]+)m0 ", drawing.inner)[1]) * scale_of(drawing)
    label = re.search(r">(\d+) (cm|m)</text>", drawing.inner)
    bar_m = int(label[1]) / (100 if label[2] == "cm" else 1)

    # Half a centimetre of the words' rounding, and a tenth of a millimetre of the drawing's.
    assert (right - left) / bar * bar_m == pytest.approx(float(across.text[:-2]), abs=0.02)


def test_what_stands_is_as_high_as_its_top_above_the_floor() -> None:
    arch = seen(path={"kind": "arch", "width_m": 2.4, "height_m": 2.1})

    assert arch.base_m == arch.shown.ground_m
    assert arch.height_m == pytest.approx(arch.shown.extent.high - arch.shown.ground_m)
    # Up to the path's crown and half the width there; balloons settle within an 11-inch of it.
    assert arch.height_m == pytest.approx(2.1 + 0.35, abs=0.28)


def test_pieces_side_by_side_are_to_one_scale() -> None:
    small, large = seen(), seen(path={"kind": "arch", "width_m": 4.8, "height_m": 2.1})

    drawings = drawings_of(
        [(small, "Small"), (large, "Large")],
        box=Box(48.0, 44.0),
        units="metric",
        id_prefix="c-",
        marked=False,
    )

    assert scale_of(drawings[0]) == pytest.approx(scale_of(drawings[1]), rel=1e-3)


def test_its_balloons_are_those_that_were_counted() -> None:
    piece = seen()

    uses = len(re.findall(r'<use class="balloon"', drawn(piece).inner))

    assert uses == sum(line.need for line in piece.made.balloons)


def test_a_person_stands_there_where_the_owner_chose_one() -> None:
    spec = spec_from_dict(arch_spec())
    person, door = (
        seen_of(spec, catalogue=example_catalogue(), rates=example_rates(), figure=figure)
        for figure in ("person", "doorway")
    )

    assert "<ellipse" in drawn(person).inner
    assert "<ellipse" not in drawn(door).inner


def test_a_name_that_looks_like_markup_is_text_in_it() -> None:
    hostile = '<script>alert(1)</script> data-colour="x" </title>'

    drawing = drawings_of([(seen(), hostile)], box=BOX, units="metric", id_prefix="p-")[0]

    assert "<script" not in drawing.inner
    assert drawing.inner.count("</title>") == 1


def test_what_is_too_large_to_draw_has_no_picture_and_no_overall_size(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(picturing, "MOST_ON_PAPER", 10)

    assert seen() is None
    measures = measures_of(spec_from_dict(arch_spec()), None, units="metric")
    assert [measure.label for measure in measures] == ["Length", "Thickness"]


def test_the_measures_are_said_in_the_businesss_units() -> None:
    piece = seen()

    imperial = [one.text for one in measures_of(piece.spec, piece, units="imperial")]
    metric = [one.text for one in measures_of(piece.spec, piece, units="metric")]

    assert imperial[1:] == ["17 ft 4 in along the garland", "1 ft 4 in to 2 ft 4 in"]
    assert metric[0] == f"About {piece.width_m:.2f} m wide, {piece.height_m:.2f} m high"
    assert metric[1:] == ["5.28 m along the garland", "0.40 m to 0.70 m"]


def test_an_even_garland_has_one_thickness() -> None:
    even = seen(width=[[0, 0.4], [1, 0.4]])

    assert measures_of(even.spec, even, units="metric")[-1].text == "0.40 m"


# ---- On the quote ----


def test_it_is_said_in_words_without_a_count(draft: Draft, pdf_of) -> None:
    pdf = pdf_of(draft)

    alts = [str(element["/Alt"]) for element in structure_of(pdf) if element.get("/Alt")]

    (alt,) = (alt for alt in alts if alt.startswith("Picture of"))
    assert alt.startswith("Picture of Garland over the door. An arch, 7 ft 10 in wide")
    assert "inch" not in " ".join(alts)
    for count in {line["need"] for line in draft.result["estimates"][0]["balloons"]}:
        assert not re.search(rf"\b{count} (oat|fern)", " ".join(alts), re.IGNORECASE)


def test_nothing_that_a_machine_reads_of_each_balloon_is_on_it(draft: Draft) -> None:
    context = quote_document(draft.inputs, draft.result, edition=1, made_on=SENT_ON)

    assert "data-" not in context["pieces"][0].picture.inner


def test_the_scale_bar_is_written_in_the_documents_own_typeface(draft: Draft) -> None:
    context = quote_document(draft.inputs, draft.result, edition=1, made_on=SENT_ON)

    assert set(re.findall(r'font-family="([^"]+)"', context["pieces"][0].picture.inner)) == {
        "Document Sans"
    }


def test_a_piece_with_its_picture_stays_on_one_page(draft: Draft, pdf_of) -> None:
    page = parts_of(pdf_of(draft)).pages[0].extract_text()

    assert "What you get" in page
    assert "along the garland" in page


def test_the_same_spec_and_seed_give_the_same_picture(draft: Draft) -> None:
    one, two = (
        quote_document(draft.inputs, draft.result, edition=1, made_on=SENT_ON) for _ in range(2)
    )

    assert one["pieces"][0].picture.inner == two["pieces"][0].picture.inner
