import re
from io import BytesIO

import pytest
from django.core.cache import cache
from django.urls import reverse
from PIL import Image

from inventory.catalogue.starter import add_starter_catalogue
from quoting.models import Piece
from quoting.pictures import drawing
from quoting.pictures.drawing import picture_of
from quoting.pieces.service import piece_add, piece_type
from quoting.pieces.surroundings import surroundings_of
from tests.factories import QuoteFactory

TYPED = {"shape": "doorway_arch", "base": ["oat", "fern"], "fullness": "slim"}


@pytest.fixture
def around(business, today):
    add_starter_catalogue()
    return surroundings_of(QuoteFactory(), business=business, today=today)


@pytest.fixture
def piece(around):
    return piece_add(quote=QuoteFactory(), shape="doorway_arch")


def typed(piece, around, **more):
    return piece_type(piece=piece, typed={**TYPED, **more}, surroundings=around)


def shown(browser, piece):
    return browser.get(reverse("piece_picture", args=[piece.pk])).text


def test_every_balloon_that_is_needed_is_in_the_picture_once(owner_client, piece, around):
    made = typed(piece, around).estimate
    assert shown(owner_client, piece).count('class="balloon"') == sum(
        line.need for line in made.balloons
    )


def test_before_the_first_estimate_it_says_when_it_appears(owner_client, piece):
    assert "The picture appears here" in shown(owner_client, piece)


def test_it_is_described_in_words(owner_client, piece, around):
    typed(piece, around)
    found = re.search(r"<desc[^>]*>([^<]+)</desc>", shown(owner_client, piece))
    assert found
    assert "An arch, 4 ft wide and 7 ft 6 in high, in fern and oat" in found[1]


def test_the_figure_beside_it_is_as_chosen(owner_client, piece, around):
    pictures = {}
    for figure in ("", "person", "none", "elephant"):
        typed(piece, around, figure=figure)
        pictures[figure] = shown(owner_client, piece)
    assert len({pictures[figure] for figure in ("", "person", "none")}) == 3
    assert pictures["elephant"] == pictures[""]
    assert pictures[""].count('class="balloon"') == pictures["none"].count('class="balloon"')


def test_choosing_the_figure_changes_nothing_that_is_sold(piece, around):
    before = typed(piece, around).piece.spec
    assert typed(piece, around, figure="person").piece.spec == before


def test_the_settled_balloons_are_kept_and_a_change_settles_them_anew(piece, around):
    cache.clear()
    made = typed(piece, around).estimate
    first = picture_of(made)
    assert picture_of(typed(piece, around, figure="none").estimate) == first
    assert picture_of(typed(piece, around, arch_width="5 ft").estimate) != first
    cache.clear()
    assert picture_of(made) == first


def test_a_picture_of_too_many_balloons_is_refused_in_words(owner_client, piece, around):
    wide = {"shape": "window_line", "line_length": "320 ft", "width_ends": "8 ft"}
    typed(piece, around, **wide)
    html = shown(owner_client, piece)
    assert "<svg" not in html
    assert "balloons" in html
    saved = owner_client.get(reverse("piece_picture_png", args=[piece.pk]))
    assert saved.status_code == 404


def test_it_is_saved_as_svg_on_paper_of_its_own(owner_client, piece, around):
    typed(piece, around, title="Arch & door")
    answer = owner_client.get(reverse("piece_picture_svg", args=[piece.pk]))
    assert answer["Content-Type"] == "image/svg+xml"
    assert answer["Content-Disposition"] == 'attachment; filename="arch-door.svg"'
    assert 'fill="#ffffff"' in answer.text
    assert "Picture of Arch &amp; door" in answer.text


def test_it_is_saved_as_png_with_its_colours_and_shape(owner_client, piece, around):
    typed(piece, around)
    answer = owner_client.get(reverse("piece_picture_png", args=[piece.pk]))
    image = Image.open(BytesIO(answer.content))
    assert image.format == "PNG"
    box = re.search(r'viewBox="\S+ \S+ (\S+) (\S+)"', shown(owner_client, piece))
    wide, high = float(box[1]), float(box[2])
    assert max(image.size) in (2000, 2001)  # whole pixels of a page in points
    assert image.width / image.height == pytest.approx(wide / high, rel=0.002)
    assert image.getpixel((0, 0)) == (255, 255, 255)
    assert len(image.getcolors(maxcolors=1 << 24)) > 1000  # shaded, not a blank page


def test_the_usual_figure_is_the_first_of_those_offered():
    assert next(iter(drawing.FIGURES)) == drawing.FIRST_FIGURE


def test_pictures_of_a_stranger_are_not_to_be_had(client, piece):
    for name in ("piece_picture", "piece_picture_svg", "piece_picture_png"):
        answer = client.get(reverse(name, args=[piece.pk]))
        assert answer.status_code == 302


def test_nothing_is_written_by_looking(owner_client, piece, around):
    typed(piece, around)
    before = Piece.objects.get(pk=piece.pk).changed_at
    shown(owner_client, piece)
    assert Piece.objects.get(pk=piece.pk).changed_at == before
