import re

import pytest
from django.urls import reverse

from decor.models import JobPhoto
from quoting.models import Piece, TracedPhoto
from quoting.traces import views
from quoting.traces.form import FEW_TAPS
from tests.decor.pictures import bytes_named, image_file
from tests.decor.test_pages_are_self_contained import Tags
from tests.factories import PieceFactory
from tests.quoting.traces.conftest import marked, numbered, photo_of, taps_px

HTMX = {"HTTP_HX_REQUEST": "true"}


def on_photo(piece, photo) -> str:
    return reverse("trace_on_photo", args=[piece.pk, photo.pk])


def measured(browser, piece, photo, **typed) -> str:
    address = reverse("trace_measure", args=[piece.pk, photo.pk])
    answer = browser.post(address, marked(**typed), **HTMX)
    assert answer.status_code == 200
    return answer.content.decode()


def note_of(html: str, name: str) -> str:
    start = html.index(f'<p id="note-{name}"')
    return html[start : html.index("</p>", start)]


def test_without_a_photo_the_page_asks_for_one(owner_client, piece):
    html = owner_client.get(reverse("trace_photo", args=[piece.pk])).content.decode()
    assert "No photo of the place yet" in html


def test_a_photo_that_is_added_is_traced_at_once(owner_client, piece):
    address = reverse("trace_photo", args=[piece.pk])
    answer = owner_client.post(address, {"photos": [image_file()]})
    photo = JobPhoto.objects.get()
    assert photo.job == piece.quote.job
    assert answer.url == on_photo(piece, photo)
    answer = owner_client.post(address, {"photos": [image_file(), image_file()]})
    assert answer.url == f"{address}?another"
    assert owner_client.get(answer.url).content.decode().count("Trace on photo") == 3


@pytest.mark.parametrize("files", [[], [bytes_named("porch.jpg", b"not a picture")]])
def test_what_is_no_photo_is_refused_on_the_page(owner_client, piece, files):
    answer = owner_client.post(reverse("trace_photo", args=[piece.pk]), {"photos": files})
    assert answer.status_code == 422
    assert not JobPhoto.objects.exists()


def test_marks_and_taps_are_measured_and_kept_as_they_come(owner_client, piece, photo):
    html = measured(owner_client, piece, photo)
    # 1.7 + 0.72 + 0.72 + 0.9 m up, over and down: 4.04 m, 13 ft 3 in.
    assert '<span class="number">13 ft 3 in</span> along the path' in html
    assert re.search(r"give or take \d", html)
    assert "depth in front of it or behind it is not seen" in html
    assert owner_client.get(on_photo(piece, photo)).content.decode().count("13 ft 3 in") == 1
    piece.refresh_from_db()
    assert piece.typed["shape"] == "walk_arch"  # it is only a draft


def test_the_answer_to_a_mark_carries_no_control(owner_client, piece, photo):
    assert "<input" not in measured(owner_client, piece, photo)


def test_the_next_thing_to_do_is_said_one_at_a_time(owner_client, piece, photo):
    address = reverse("trace_measure", args=[piece.pk, photo.pk])
    whole = marked()
    names = list(whole)

    def said(upto: str) -> str:
        typed = {name: whole[name] for name in names[: names.index(upto)]}
        return owner_client.post(address, typed).content.decode()

    assert "Tap corner 1 of something flat" in said("corner_1_x")
    assert "Tap corner 3 of something flat" in said("corner_3_x")
    assert "Now tap where the garland begins." in said("tap_1_x")
    assert "Tap on along the path" in said("tap_2_x")
    assert "Now say how large it is." in measured(owner_client, piece, photo, height="")


def test_an_error_names_its_corner_beside_it_and_at_the_top(owner_client, piece, photo):
    in_line = numbered("corner", [(200, 200), (400, 200), (600, 200), (200, 800)])
    html = measured(owner_client, piece, photo, **in_line)
    assert "Corner 2 lies in line with corners 1 and 3" in note_of(html, "corner_2")
    assert "field-wrong" in note_of(html, "corner_2")
    assert 'href="#id_corner_2_x"' in html
    assert "field-wrong" not in note_of(html, "corner_1")


def test_used_the_piece_follows_and_the_page_shows_it(owner_client, piece, photo):
    answer = owner_client.post(on_photo(piece, photo), marked(keep="yes"), follow=True)
    html = answer.content.decode()
    assert views.TAKEN in html
    assert f'data-keep-saved="trace-{piece.pk}-{photo.pk}"' in html
    assert reverse("trace_picture", args=[piece.pk]) in html
    assert "13 ft 3 in" in html
    piece.refresh_from_db()
    assert piece.spec["path"]["kind"] == "drape"


def test_the_page_of_a_traced_piece_leads_to_its_photo(owner_client, piece, photo):
    owner_client.post(on_photo(piece, photo), marked(keep="yes"))
    chosen = reverse("trace_photo", args=[piece.pk])
    assert owner_client.get(chosen).url == on_photo(piece, photo)
    assert owner_client.get(f"{chosen}?another").status_code == 200


@pytest.mark.parametrize("headers", [{}, HTMX])
def test_the_garland_is_shown_on_its_photo(owner_client, piece, photo, headers):
    owner_client.post(on_photo(piece, photo), marked(keep="yes"))
    address = reverse("trace_picture", args=[piece.pk])
    html = owner_client.get(address, **headers).content.decode()
    assert html.count('class="balloon"') > 50
    assert f'<image href="{reverse("photo", args=[photo.pk])}"' in html
    assert ("<html" in html) is not bool(headers)


def test_points_changed_by_hand_are_told_and_the_old_path_can_be_used_again(
    owner_client, piece, photo
):
    owner_client.post(on_photo(piece, photo), marked(keep="yes"))
    typed = {"shape": "drape", "base": "oat", "drape_points": "0 ft, 0 ft\n4 ft, 7 ft"}
    owner_client.post(reverse("piece_estimate", args=[piece.pk]), typed)
    html = owner_client.get(on_photo(piece, photo)).content.decode()
    assert "no longer goes along this path" in html
    shown = owner_client.get(reverse("trace_picture", args=[piece.pk])).content.decode()
    assert views.OTHER_PATH in shown
    assert 'class="balloon"' not in shown
    owner_client.post(on_photo(piece, photo), marked(keep="yes"))
    html = owner_client.get(on_photo(piece, photo)).content.decode()
    assert "no longer goes along this path" not in html


def test_without_colours_the_photo_says_what_to_do(owner_client, piece, photo):
    Piece.objects.filter(pk=piece.pk).update(typed={"shape": "drape"}, spec=None)
    owner_client.post(on_photo(piece, photo), marked(keep="yes"))
    shown = owner_client.get(reverse("trace_picture", args=[piece.pk])).content.decode()
    assert views.NO_COLOURS in shown


def test_the_piece_page_shows_the_garland_on_its_photo_once_it_is_traced(
    owner_client, piece, photo
):
    page, shown = (reverse(name, args=[piece.pk]) for name in ("piece_edit", "trace_picture"))
    assert shown not in owner_client.get(page).content.decode()
    owner_client.post(on_photo(piece, photo), marked(keep="yes"))
    assert f'hx-get="{shown}"' in owner_client.get(page).content.decode()


def test_the_garland_is_taken_off_the_photo(owner_client, piece, photo):
    owner_client.post(on_photo(piece, photo), marked(keep="yes"))
    answer = owner_client.post(reverse("trace_off", args=[piece.pk]), follow=True)
    assert views.PUT_AWAY in answer.content.decode()
    piece.refresh_from_db()
    assert piece.typed["shape"] == "drape"
    assert owner_client.post(reverse("trace_off", args=[piece.pk])).status_code == 302


def test_unfinished_it_is_not_used_and_nothing_is_lost(owner_client, piece, photo):
    typed = marked(keep="yes", width="three feet", tap_2_x="", corner_1_x="1e9")
    answer = owner_client.post(on_photo(piece, photo), typed)
    html = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="three feet"' in html
    assert 'value="1e9"' in html
    assert "Write a length such as 7 ft 6 in." in note_of(html, "width")
    assert "the photo ends there" in note_of(html, "corner_1")
    assert "Give both" in note_of(html, "tap_2")
    assert 'value="three feet"' in owner_client.get(on_photo(piece, photo)).content.decode()
    piece.refresh_from_db()
    assert piece.typed["shape"] == "walk_arch"


def test_without_scripts_numbers_are_typed_measured_and_used(owner_client, piece, photo):
    """Only the fields that a plain page shows: three rows beyond those in use at a time."""
    address = on_photo(piece, photo)
    page = Tags(owner_client.get(address).content.decode())
    shown = {attrs.get("name") for tag, attrs in page.tags if tag == "input"}
    marks = {name: text for name, text in marked().items() if not name.startswith("tap")}
    assert set(marks) <= shown
    one = {**marks, **numbered("tap", taps_px()[:1])}
    answer = owner_client.post(address, {**one, "keep": "yes"})
    assert FEW_TAPS in note_of(answer.content.decode(), "tap_1")
    answer = owner_client.post(address, {**marked(), "measure": "yes"}, follow=True)
    assert "13 ft 3 in" in answer.content.decode()
    assert "<circle" in answer.content.decode()  # the server draws the marks
    answer = owner_client.post(address, {**marked(), "keep": "yes"})
    assert answer.status_code == 302


def test_a_hundred_taps_come_back_with_what_to_do(owner_client, piece, photo):
    taps = numbered("tap", [(400 + 5 * i, 600) for i in range(100)])
    answer = owner_client.post(on_photo(piece, photo), {**marked(), **taps, "keep": "yes"})
    html = answer.content.decode()
    assert "take out 40 of them" in note_of(html, "tap_61")
    assert 'value="895.0"' in html


@pytest.mark.parametrize("junk", [{}, {"known": ["rectangle", "length"]}, {"tap_0_x": "3"}])
def test_any_post_is_answered(owner_client, piece, photo, junk):
    assert owner_client.post(on_photo(piece, photo), junk).status_code == 422
    address = reverse("trace_measure", args=[piece.pk, photo.pk])
    assert owner_client.post(address, junk).status_code == 200


def test_a_photo_of_another_job_and_a_piece_that_is_gone_are_not_found(owner_client, piece, photo):
    strange = photo_of(PieceFactory())
    assert owner_client.get(on_photo(piece, strange)).status_code == 404
    assert owner_client.post(on_photo(piece, strange), marked()).status_code == 404
    assert owner_client.get(reverse("trace_photo", args=[piece.pk + 99])).status_code == 404
    assert not TracedPhoto.objects.exists()


def test_the_pages_hold_to_the_content_policy(owner_client, piece, photo):
    owner_client.post(on_photo(piece, photo), marked(keep="yes"))
    for address in (
        on_photo(piece, photo),
        reverse("trace_photo", args=[piece.pk]) + "?another",
        reverse("trace_picture", args=[piece.pk]),
    ):
        for tag, attrs in Tags(owner_client.get(address).content.decode()).tags:
            assert "style" not in attrs and tag != "style"
            assert not [name for name in attrs if name.startswith("on")]
