import pytest
from django.http import QueryDict

from decor.jobs.photos import photos_add, photos_read
from inventory.catalogue.service import estimator_catalogue
from inventory.models import Colour, Item
from quoting.palettes import forms
from quoting.palettes.balloons import balloons_of
from quoting.palettes.beginning import PALETTE_UNKNOWN, PHOTO_GONE, beginning_of
from quoting.palettes.starts import NO_HUE, PHOTO_UNREADABLE
from quoting.pieces.shelf import shelf_of
from tests.decor.pictures import image_file
from tests.factories import JobFactory


def begun(piece, query: str):
    balloons = balloons_of(shelf_of(estimator_catalogue(with_archived=False)), {})
    return beginning_of(QueryDict(query), job=piece.quote.job, balloons=balloons)


def hexes(beginning) -> list[str]:
    return [colour.hex for colour in beginning.found]


def test_a_photo_gives_its_colours_with_their_shares(piece, photo):
    found = begun(piece, f"from=photo&photo={photo.pk}").found
    assert [colour.share_word for colour in found] == [
        "60 % of the photo",
        "30 % of the photo",
        "10 % of the photo",
    ]


@pytest.mark.parametrize("number", ["0", "nine", "²", "9" * 30, "-1", "<b>"])
def test_a_photo_that_is_not_there_is_said(piece, number):
    beginning = begun(piece, f"from=photo&photo={number}")
    assert (beginning.problem, beginning.found) == (PHOTO_GONE, ())


def test_a_photo_of_another_job_is_not_shown(piece):
    [other] = photos_add(job=JobFactory(), pictures=photos_read([image_file()]).pictures)
    assert begun(piece, f"from=photo&photo={other.pk}").problem == PHOTO_GONE


@pytest.mark.parametrize("content", [None, b"no picture"])
def test_a_photo_whose_file_is_gone_or_broken_is_said(piece, photo, content):
    path = photo.image.path
    photo.image.storage.delete(photo.image.name)
    if content:
        with open(path, "wb") as file:
            file.write(content)
    assert begun(piece, f"from=photo&photo={photo.pk}").problem == PHOTO_UNREADABLE


def test_colours_are_typed_and_ticked_together(piece):
    beginning = begun(piece, "from=typed&colours=%23123456,+rgb(1,2,3)&shelf=fern")
    assert hexes(beginning) == ["#5e7f57", "#123456", "#010203"]
    assert beginning.found[0].name == "Fern"


def test_each_colour_that_is_not_understood_is_named(piece):
    form = begun(piece, "from=typed&colours=%23123456,+sunny,+%3Cb%3E").form
    messages = " ".join(form.errors["colours"])
    assert '"sunny"' in messages
    assert '"<b>"' in messages
    assert "[" not in messages


def test_naming_nothing_is_said_once_something_was_asked(piece):
    assert begun(piece, "from=typed").is_refused is False
    assert begun(piece, "from=typed&colours=").form.errors["colours"] == [forms.NOTHING_NAMED]
    assert "shelf" in begun(piece, "from=typed&shelf=mauve").form.errors


def test_one_colour_has_three_harmonies_that_begin_with_it(piece):
    beginning = begun(piece, "from=one&colour=%235e7f57&scheme=three-way")
    assert [scheme.name for scheme in beginning.schemes] == ["neighbour", "opposite", "three-way"]
    assert beginning.scheme.name == "three-way"
    assert hexes(beginning)[0] == "#5e7f57"
    assert begun(piece, "from=one&colour=%235e7f57&scheme=x").scheme.name == "neighbour"


def test_a_grey_has_no_harmonies_and_is_matched_alone(piece):
    beginning = begun(piece, "from=one&colour=%23888888")
    assert beginning.problem == NO_HUE
    assert hexes(beginning) == ["#888888"]


def test_a_season_s_set_is_found_by_its_name(piece):
    assert len(begun(piece, "from=season&palette=Lit+window").found) == 4
    assert begun(piece, "from=season&palette=%3Cb%3E").problem == PALETTE_UNKNOWN
    assert begun(piece, "from=season").found == ()


def test_an_unknown_way_begins_with_photos(piece):
    assert begun(piece, "from=moon").way == "photo"


def test_balloons_say_their_finish_and_the_sizes_they_lack(piece):
    Item.objects.filter(colour__key="oat", nominal_in__in=(17, 24)).delete()
    Colour.objects.filter(key="oat").update(finish="pearl")
    balloons = balloons_of(shelf_of(estimator_catalogue(with_archived=False)), {})
    by_key = {balloon.key: balloon for balloon in balloons}
    assert (by_key["oat"].finish_word, by_key["oat"].only_sizes) == ("pearl", "only 5 and 11-inch")
    assert (by_key["fern"].finish_word, by_key["fern"].only_sizes) == ("", "")
