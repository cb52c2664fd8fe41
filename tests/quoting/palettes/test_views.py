import re

import pytest
from django.urls import reverse
from django.utils import timezone

from decor.jobs.forms import NO_PHOTO_CHOSEN
from inventory.models import Colour
from quoting.models import Piece
from quoting.palettes.choosing import NONE_CHOSEN, NOT_OFFERED
from tests.decor.pictures import SVG, bytes_named, image_file, png_that_claims

HTMX = {"HTTP_HX_REQUEST": "true"}
HOSTILE = "<script>alert(1)</script>"


def address(piece: Piece, query: str = "") -> str:
    return reverse("palette_choose", args=[piece.pk]) + query


def typed(piece: Piece) -> dict:
    return Piece.objects.get(pk=piece.pk).typed


@pytest.fixture
def chosen(photo) -> str:
    return f"?from=photo&photo={photo.pk}"


@pytest.mark.parametrize("way", ["", "?from=typed", "?from=one", "?from=season"])
def test_every_way_to_begin_has_a_page(owner_client, piece, way):
    page = owner_client.get(address(piece, way))
    assert page.status_code == 200
    assert page.text.count('class="way" href="?from=') == 4
    assert len(re.findall(r'class="way"[^>]* aria-current="true"', page.text)) == 1
    assert "Use these colours" not in page.text


def test_colours_of_a_photo_are_shown_by_name_share_and_nearness(owner_client, piece, chosen):
    page = owner_client.get(address(piece, chosen)).text
    for words in ("60 % of the photo", "Same to the eye", "Copper", "shiny", "Leave it out"):
        assert words in page
    assert "They take the place of Plum." in page
    assert "Fern and Copper are hard to tell apart" in page


def test_chosen_colours_become_the_piece_s_and_lead_back_to_it(owner_client, piece, chosen):
    choice = {"match_0": "oat", "match_1": "fern", "match_2": "copper", "as_in_photo": "on"}
    reply = owner_client.post(address(piece, chosen), choice, follow=True)
    assert reply.redirect_chain == [(reverse("piece_edit", args=[piece.pk]), 302)]
    assert "Oat, Fern and Copper: these are the colours of" in reply.text
    after = typed(piece)
    assert after["base"] == ["oat", "fern", "copper"]
    assert (after["share_oat"], after["share_fern"], after["share_copper"]) == ("60", "30", "10")
    assert after["arch_width"] == "9 ft"
    spec = Piece.objects.get(pk=piece.pk).spec
    assert {part["colour"] for part in spec["base"]} == {"oat", "fern", "copper"}


def test_the_smallest_becomes_an_accent_when_ticked(owner_client, piece, chosen):
    choice = {"match_0": "oat", "match_1": "fern", "match_2": "copper", "accent": "on"}
    owner_client.post(address(piece, chosen), choice)
    assert (typed(piece)["base"], typed(piece)["accents"]) == (["oat", "fern"], ["copper"])


def test_a_window_that_still_shows_the_old_colours_is_told(owner_client, piece, chosen):
    owner_client.post(address(piece, chosen), {"match_0": "oat"})
    behind = {"shape": "walk_arch", "base": ["plum"], "window": "w1", "seen_count": "0"}
    reply = owner_client.post(reverse("piece_estimate", args=[piece.pk]), behind, **HTMX)
    assert reply.context["was_changed_elsewhere"]


@pytest.mark.parametrize(
    ("choice", "message"),
    [
        ({}, NONE_CHOSEN),
        ({"match_0": "", "match_1": "", "match_2": ""}, NONE_CHOSEN),
        ({"match_0": HOSTILE, "match_1": "fern"}, NOT_OFFERED),
        ({"match_0": "oat\0", "match_1": "fern"}, NOT_OFFERED),
    ],
)
def test_a_choice_that_cannot_be_used_says_why_and_keeps_the_rest(
    owner_client, piece, chosen, choice, message
):
    reply = owner_client.post(address(piece, chosen), choice)
    assert reply.status_code == 422
    assert message in reply.text
    assert HOSTILE not in reply.text
    assert typed(piece)["base"] == ["plum"]
    is_kept = 'name="match_1" value="fern" checked' in reply.text
    assert is_kept is (choice.get("match_1") == "fern")


def test_a_change_of_choice_is_answered_with_how_they_look_together(owner_client, piece, chosen):
    choice = {"match_0": "oat", "match_1": "", "match_2": "copper"}
    part = owner_client.post(address(piece, chosen), choice, **HTMX)
    assert part.status_code == 200
    assert part.text.lstrip().startswith('<section id="together"')
    assert "All of them are told apart" in part.text
    assert "Fern" not in part.text
    assert typed(piece)["base"] == ["plum"]
    nothing = owner_client.post(address(piece, chosen), {"match_0": ""}, **HTMX)
    assert NONE_CHOSEN in nothing.text


def test_without_scripts_a_button_shows_them_together(owner_client, piece, chosen):
    page = owner_client.post(address(piece, chosen), {"match_0": "washday", "check": "1"})
    assert page.status_code == 200
    assert 'name="match_0" value="washday" checked' in page.text
    assert typed(piece)["base"] == ["plum"]


def test_what_was_typed_comes_back_with_its_error(owner_client, piece):
    page = owner_client.get(address(piece, "?from=typed&colours=sunny+%22%3E%3Cb%3E&shelf=fern"))
    assert page.status_code == 422
    assert 'value="sunny &quot;&gt;&lt;b&gt;"' in page.text
    assert 'value="fern" id="id_shelf_3" checked' in page.text
    assert '"><b>' not in page.text
    assert "Use these colours" not in page.text


def test_a_grey_is_told_that_it_has_no_harmonies(owner_client, piece):
    page = owner_client.get(address(piece, "?from=one&colour=%23888888"))
    assert "goes with every colour" in page.text
    assert "Doorstep" in page.text


def test_hostile_names_stay_words(owner_client, piece):
    Colour.objects.filter(key="oat").update(name=HOSTILE)
    piece.quote.job.client.name = HOSTILE
    piece.quote.job.client.save()
    piece.title = HOSTILE
    piece.save()
    for query in ("", "?from=typed&shelf=oat", "?from=one&colour=%23e8dcc6"):
        page = owner_client.get(address(piece, query)).text
        assert HOSTILE not in page
        assert "&lt;script&gt;" in page
    reply = owner_client.post(
        address(piece, "?from=typed&shelf=oat"), {"match_0": "oat"}, follow=True
    )
    assert HOSTILE not in reply.text


def test_without_balloons_the_page_says_what_to_do_first(owner_client, piece):
    Colour.objects.update(archived_at=timezone.now())
    page = owner_client.get(address(piece, "?from=season&palette=Lit+window"))
    assert "No balloon colours yet" in page.text
    assert reverse("colour_add") in page.text


def test_a_colour_that_was_archived_is_not_proposed(owner_client, piece, chosen):
    Colour.objects.filter(key="fern").update(archived_at=timezone.now())
    assert 'value="fern"' not in owner_client.get(address(piece, chosen)).text


def test_a_piece_of_an_archived_job_still_finds_its_colours(owner_client, piece, chosen):
    job = piece.quote.job
    job.archived_at = timezone.now()
    job.save()
    assert owner_client.get(address(piece, chosen)).status_code == 200


@pytest.mark.parametrize("name", ["palette_open", "palette_photo"])
def test_what_writes_does_not_answer_to_get(owner_client, piece, name):
    assert owner_client.get(reverse(name, args=[piece.pk])).status_code == 405
    assert owner_client.post(reverse(name, args=[piece.pk + 1])).status_code == 404


def test_the_page_answers_only_to_get_and_post(owner_client, piece):
    assert owner_client.put(address(piece)).status_code == 405
    assert owner_client.get(reverse("palette_choose", args=[piece.pk + 1])).status_code == 404


def test_what_is_typed_on_the_piece_is_kept_before_it_is_left(owner_client, piece):
    sent = {"shape": "walk_arch", "base": ["oat"], "arch_width": "4 km", "window": "w1"}
    reply = owner_client.post(reverse("palette_open", args=[piece.pk]), sent, follow=True)
    assert reply.redirect_chain == [(address(piece), 302)]
    assert typed(piece) == {"shape": "walk_arch", "base": ["oat"], "arch_width": "4 km"}
    assert f'data-keep-saved="piece-{piece.pk}"' in reply.text


# --- a photo of an idea


def upload(owner_client, piece, *files):
    return owner_client.post(reverse("palette_photo", args=[piece.pk]), {"photos": list(files)})


def test_an_added_photo_is_kept_with_the_job_and_its_colours_are_found(owner_client, piece):
    reply = upload(owner_client, piece, image_file())
    photo = piece.quote.job.photos.get()
    assert reply.url == address(piece, f"?from=photo&photo={photo.pk}#found")
    assert "100 % of the photo" in owner_client.get(reply.url).text


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"no picture", "is not a picture we can read"),
        (SVG, "is not a picture we can read"),
        (png_that_claims(20_000, 20_000), "more than 50 million pixels"),
    ],
)
def test_a_bad_photo_is_refused_beside_its_field(owner_client, piece, content, words):
    reply = upload(owner_client, piece, bytes_named(f"{HOSTILE}.jpg", content))
    assert reply.status_code == 422
    assert words in reply.text
    assert HOSTILE not in reply.text
    assert not piece.quote.job.photos.exists()


def test_choosing_no_photo_is_said(owner_client, piece):
    reply = upload(owner_client, piece)
    assert reply.status_code == 422
    assert NO_PHOTO_CHOSEN in reply.text


# --- on the piece's own page


def test_the_piece_says_which_of_its_colours_are_hard_to_tell_apart(owner_client, piece):
    live = reverse("piece_estimate", args=[piece.pk])
    told = {"shape": "walk_arch", "base": ["fern"], "accents": ["copper"]}
    assert "Fern with Copper" in owner_client.post(live, told, **HTMX).text
    page = owner_client.get(reverse("piece_edit", args=[piece.pk])).text
    assert "Fern with Copper" in page
    assert reverse("palette_open", args=[piece.pk]) in page
    fine = owner_client.post(live, {"shape": "walk_arch", "base": ["oat", "fern"]}, **HTMX)
    assert '<p id="colours-apart" class="field-note" hx-swap-oob="true"></p>' in fine.text
