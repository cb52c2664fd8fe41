import pytest
from django.urls import reverse

from quoting.models import Piece
from quoting.pieces.form import CHOOSE_A_COLOUR
from tests.factories import QuoteFactory

GOOD = {"shape": "walk_arch", "base": ["oat", "fern"], "window": "w1", "seen_count": "0"}
HTMX = {"HTTP_HX_REQUEST": "true"}


def live(browser, piece, **typed):
    return browser.post(reverse("piece_estimate", args=[piece.pk]), {**GOOD, **typed}, **HTMX)


def note_of(html: str, name: str) -> str:
    start = html.index(f'<p id="note-{name}"')
    return html[start : html.index("</p>", start)]


def test_a_piece_begins_with_the_choice_of_a_drawing(owner_client, piece):
    page = owner_client.get(reverse("piece_new", args=[piece.quote_id]))
    assert page.content.decode().count('class="drawing"') == 8
    answer = owner_client.post(
        reverse("piece_new", args=[piece.quote_id]), {"shape": "backdrop_ring"}
    )
    made = Piece.objects.latest("pk")
    assert made.title == "Backdrop ring"
    assert answer.url == reverse("piece_edit", args=[made.pk])


def test_a_shape_that_nobody_offered_makes_no_piece(owner_client, piece):
    answer = owner_client.post(reverse("piece_new", args=[piece.quote_id]), {"shape": "spiral"})
    assert answer.status_code == 422
    assert Piece.objects.count() == 1


def test_a_fresh_piece_shows_no_errors_and_says_what_to_do(owner_client, piece):
    html = owner_client.get(reverse("piece_edit", args=[piece.pk])).content.decode()
    assert CHOOSE_A_COLOUR not in html
    assert "The estimate appears here" in html
    assert "Usually 8 ft" in note_of(html, "arch_width")


def test_every_change_is_kept_and_answered_with_the_estimate(owner_client, piece):
    answer = live(owner_client, piece, arch_width="9 ft")
    html = answer.content.decode()
    assert answer.status_code == 200
    assert "An arch, 9 ft wide and 8 ft high, in fern and oat" in html
    for part in (
        "Balloons",
        "Hours",
        "Cost and price",
        "What drives the price most",
        "Recipe",
        "Indoors",
        "Packing and driving",
    ):
        assert f"<h2>{part}</h2>" in html
    assert "a markup would be a share of the cost" in html
    assert Piece.objects.get(pk=piece.pk).typed["arch_width"] == "9 ft"


def test_the_answer_to_a_change_carries_no_control(owner_client, piece):
    """Nothing that is being typed can be touched: only notes and a hidden count come back."""
    html = live(owner_client, piece).content.decode()
    assert html.count("<input") == 1
    assert '<input type="hidden" id="seen-count" name="seen_count" value="1"' in html
    assert "<select" not in html
    assert "<textarea" not in html


def test_a_wrong_value_is_said_beside_its_field_and_the_old_estimate_stays(owner_client, piece):
    live(owner_client, piece)
    answer = live(owner_client, piece, arch_width="4 km")
    html = answer.content.decode()
    assert answer.status_code == 422
    assert "Write a length such as 7 ft 6 in." in note_of(html, "arch_width")
    assert "field-wrong" in note_of(html, "arch_width")
    assert 'href="#id_arch_width"' in html
    assert "out of date" in html
    assert "An arch, 8 ft wide" in html


def test_a_reload_shows_what_was_typed_with_its_errors(owner_client, piece):
    live(owner_client, piece, arch_width="4 km", gust="<b>gale</b>")
    html = owner_client.get(reverse("piece_edit", args=[piece.pk])).content.decode()
    assert 'value="4 km"' in html
    assert "&lt;b&gt;gale&lt;/b&gt;" in html
    assert "Write a length" in note_of(html, "arch_width")
    assert 'aria-invalid="true"' in html


def test_the_page_works_without_scripts(owner_client, piece):
    answer = owner_client.post(reverse("piece_edit", args=[piece.pk]), GOOD)
    assert answer.url == reverse("quote_detail", args=[piece.quote_id])
    assert Piece.objects.get(pk=piece.pk).spec["path"]["kind"] == "arch"


def test_without_scripts_errors_come_back_with_all_that_was_typed(owner_client, piece):
    answer = owner_client.post(
        reverse("piece_edit", args=[piece.pk]), {**GOOD, "crew": "0", "title": "Porch"}
    )
    html = answer.content.decode()
    assert answer.status_code == 422
    assert "A whole number between 1 and 20" in note_of(html, "crew")
    assert 'value="Porch"' in html
    assert '<details class="fold" open>\n  <summary><h2 class="fold-title">Extras' in html, (
        "the fold with the error opens"
    )


def test_another_window_is_told_that_the_piece_changed(owner_client, piece):
    live(owner_client, piece)
    answer = live(owner_client, piece, window="w2", fullness="lush")
    assert "changed in another window" in answer.content.decode()
    assert Piece.objects.get(pk=piece.pk).typed["fullness"] == "lush"


def test_what_is_not_about_the_piece_is_not_kept_with_it(owner_client, piece):
    live(owner_client, piece)
    assert set(Piece.objects.get(pk=piece.pk).typed) == {"shape", "base"}


def test_taking_a_piece_out_asks_first(owner_client, piece):
    address = reverse("piece_delete", args=[piece.pk])
    assert "Take it out" in owner_client.get(address).content.decode()
    assert Piece.objects.exists()
    answer = owner_client.post(address)
    assert answer.url == reverse("quote_detail", args=[piece.quote_id])
    assert not Piece.objects.exists()


def test_a_copy_opens_for_change(owner_client, piece):
    answer = owner_client.post(reverse("piece_copy", args=[piece.pk]))
    copy = Piece.objects.latest("pk")
    assert copy.pk != piece.pk
    assert answer.url == reverse("piece_edit", args=[copy.pk])


@pytest.mark.parametrize("name", ["piece_copy", "piece_estimate"])
def test_looking_changes_nothing(owner_client, piece, name):
    assert owner_client.get(reverse(name, args=[piece.pk])).status_code == 405


@pytest.mark.parametrize(
    "name", ["piece_edit", "piece_estimate", "piece_delete", "piece_copy", "piece_new"]
)
def test_a_piece_that_is_not_there_is_not_found(owner_client, business, name):
    assert owner_client.post(reverse(name, args=[4711])).status_code == 404


@pytest.mark.parametrize("name", ["piece_edit", "piece_estimate", "piece_delete", "piece_copy"])
def test_a_stranger_is_sent_to_log_in(client, piece, name):
    answer = client.post(reverse(name, args=[piece.pk]), GOOD)
    assert answer.url.startswith(reverse("login"))
    assert "base" not in Piece.objects.get(pk=piece.pk).typed


def test_with_no_colours_on_the_shelf_the_page_leads_to_the_first(owner_client, business):
    from quoting.pieces.service import piece_add

    bare = piece_add(quote=QuoteFactory())
    html = owner_client.get(reverse("piece_edit", args=[bare.pk])).content.decode()
    assert reverse("colour_add") in html
    assert live(owner_client, bare).status_code == 422


@pytest.mark.parametrize("seen", ["", "-1", "nan", "9" * 40, "٣"])
def test_a_count_that_is_none_is_taken_as_nought(owner_client, piece, seen):
    assert live(owner_client, piece, seen_count=seen).status_code == 200
