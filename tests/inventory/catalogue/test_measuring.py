from decimal import Decimal

import pytest
from django.urls import reverse
from PIL import ImageFile

from inventory.catalogue import measuring
from inventory.catalogue.measuring import Area
from inventory.catalogue.measuring_form import (
    A_PER_CENT,
    CHOOSE_A_PHOTO,
    PAST_THE_FOOT,
    PAST_THE_RIGHT,
)
from inventory.catalogue.measuring_views import MEASURE_AGAIN
from inventory.models import Colour
from quoting.estimator.palette.measuring import GLARE
from tests.decor.pictures import SVG, bytes_named, camera_notes, png_that_claims
from tests.factories import ColourFactory, ItemFactory
from tests.quoting.palette.photos import saved, striped

HTMX = {"HTTP_HX_REQUEST": "true"}
LEFT = {"left": "5", "top": "10", "width": "30", "height": "50"}
HOSTILE = "<script>alert(1)</script>"


@pytest.fixture
def fern(db) -> Colour:
    return ColourFactory()


def halves(kind: str = "PNG", **options) -> bytes:
    return saved(striped({"#65875d": 0.5, "#e8dcc6": 0.5}), kind, **options)


def measure(browser, colour, content: bytes | None = None, name="balloon.jpg", **said):
    page = reverse("colour_measure", args=[colour.pk])
    extra = {key: said.pop(key) for key in list(said) if key.startswith("HTTP")}
    photo = bytes_named(name, halves() if content is None else content)
    return browser.post(page, {**LEFT, "photo": photo, **said}, **extra)


def test_the_page_begins_with_the_middle_of_the_photo(owner_client, fern):
    page = owner_client.get(reverse("colour_measure", args=[fern.pk]))
    assert page.status_code == 200
    assert "not kept" in page.text
    assert 'name="left" value="42"' in page.text


def test_the_area_is_measured_and_set_beside_the_present_colour(owner_client, fern):
    page = measure(owner_client, fern)
    assert page.status_code == 200
    assert 'name="hex" value="#65875d"' in page.text
    assert page.text.count('fill="#5e7f57"') == 1
    assert "Near: a difference shows side by side" in page.text
    assert Colour.objects.get().hex == "#5e7f57"


def test_another_area_has_another_colour(owner_client, fern):
    page = measure(owner_client, fern, left="60")
    assert 'name="hex" value="#e8dcc6"' in page.text
    assert "Far: plainly another colour" in page.text


def test_the_area_is_of_the_photo_as_one_sees_it(owner_client, fern):
    """A phone saves it lying on its side and notes that it is to be turned to the right."""
    on_its_side = halves(exif=camera_notes())
    top = measure(owner_client, fern, on_its_side, left="10", top="5", width="50", height="30")
    assert 'name="hex" value="#65875d"' in top.text


def test_glare_is_said_before_the_colour_is_used(owner_client, fern):
    photo = striped({"#5e7f57": 1})
    photo.paste("#ffffff", (40, 60, 90, 120))
    page = measure(owner_client, fern, saved(photo))
    assert GLARE[1:] in page.text
    assert "Use this colour" in page.text


def test_a_whole_photo_of_twelve_megapixels_is_measured(owner_client, fern):
    large = saved(striped({"#5e7f57": 1}, size=(4032, 3024)), "JPEG", quality=95)
    page = measure(owner_client, fern, large, left="0", top="0", width="100", height="100")
    assert page.status_code == 200
    assert "Same to the eye" in page.text


def test_scripts_get_only_the_answer(owner_client, fern):
    part = measure(owner_client, fern, **HTMX)
    assert "<html" not in part.text
    assert "Use this colour" in part.text
    refused = measure(owner_client, fern, b"no picture", **HTMX)
    assert refused.status_code == 422
    assert 'href="#id_photo"' in refused.text


@pytest.mark.parametrize(
    ("said", "field", "message"),
    [
        ({"left": ""}, "left", A_PER_CENT),
        ({"left": "NaN"}, "left", A_PER_CENT),
        ({"top": "-1"}, "top", A_PER_CENT),
        ({"width": "0"}, "width", A_PER_CENT),
        ({"width": "1e3"}, "width", A_PER_CENT),
        ({"width": "1e-999"}, "width", A_PER_CENT),
        ({"height": HOSTILE}, "height", A_PER_CENT),
        ({"left": "80"}, "width", PAST_THE_RIGHT.format(most=Decimal(20))),
        ({"top": "60.5"}, "height", PAST_THE_FOOT.format(most=Decimal("39.5"))),
        ({"width": "0.5"}, "width", measuring.TOO_SMALL),
    ],
)
def test_an_area_that_cannot_be_measured_is_said_at_its_field(
    owner_client, fern, said, field, message
):
    page = measure(owner_client, fern, **said)
    assert page.status_code == 422
    assert page.context["form"].errors[field] == [message]
    assert HOSTILE not in page.text
    assert "Use this colour" not in page.text
    for name, value in {**LEFT, **said}.items():
        assert page.context["form"][name].value() == value


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"no picture", "cannot be read as a photo"),
        (b"", CHOOSE_A_PHOTO),
        (SVG, "cannot be read as a photo"),
        (png_that_claims(20_000, 20_000), "too many pixels"),
        (halves("JPEG")[:3000], "cannot be read as a photo"),
    ],
    ids=["words", "empty", "svg", "bomb", "half a file"],
)
def test_a_bad_photo_is_refused(owner_client, fern, monkeypatch, content, words):
    # As WeasyPrint leaves it in a process that has made a PDF.
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    page = measure(owner_client, fern, content, name=f"{HOSTILE}.jpg")
    assert page.status_code == 422
    assert words in page.context["form"].errors["photo"][0]
    assert HOSTILE not in page.text


def test_no_photo_is_said(owner_client, fern):
    page = owner_client.post(reverse("colour_measure", args=[fern.pk]), LEFT)
    assert page.context["form"].errors["photo"] == [CHOOSE_A_PHOTO]


def test_a_photo_that_is_too_heavy_is_refused(owner_client, fern, monkeypatch):
    monkeypatch.setattr(measuring, "MAX_BYTES", 100)
    page = measure(owner_client, fern)
    assert page.context["form"].errors["photo"] == [measuring.TOO_HEAVY]


def test_using_the_measured_colour_sets_it_and_says_what_it_was(owner_client, fern):
    reply = owner_client.post(
        reverse("colour_measure_use", args=[fern.pk]), {"hex": "#65875d"}, follow=True
    )
    assert reply.redirect_chain == [(reverse("colour_edit", args=[fern.pk]), 302)]
    assert "Fern looks like #65875d now. Before it was #5e7f57." in reply.text
    assert Colour.objects.get().hex == "#65875d"


@pytest.mark.parametrize("value", ["", "fern", "#65875D0", "url(x)", "#12345g"])
def test_what_is_no_colour_is_never_set(owner_client, fern, value):
    reply = owner_client.post(
        reverse("colour_measure_use", args=[fern.pk]), {"hex": value}, follow=True
    )
    assert MEASURE_AGAIN in reply.text
    assert Colour.objects.get().hex == "#5e7f57"


def test_wrong_methods_and_unknown_colours(owner_client, fern):
    use, page = (reverse(f"colour_measure{end}", args=[fern.pk]) for end in ("_use", ""))
    assert owner_client.get(use).status_code == 405
    assert owner_client.put(page).status_code == 405
    assert owner_client.get(reverse("colour_measure", args=[fern.pk + 1])).status_code == 404
    assert owner_client.post(reverse("colour_measure_use", args=[fern.pk + 1])).status_code == 404


def test_a_hostile_name_stays_words(owner_client, fern):
    Colour.objects.update(name=HOSTILE)
    assert HOSTILE not in measure(owner_client, fern).text


def test_a_colour_is_saved_on_the_way_to_be_measured(owner_client, fern):
    ItemFactory(colour=fern)
    page = reverse("colour_edit", args=[fern.pk])
    sent = {"name": "Bracken", "hex": "#5e7f57", "finish": "plain", "count_11": "50"}
    refused = owner_client.post(page, {**sent, "then": "measure"})
    assert refused.status_code == 422
    reply = owner_client.post(page, {**sent, "price_11": "9", "then": "measure"})
    assert reply.url == reverse("colour_measure", args=[fern.pk])
    assert Colour.objects.get().name == "Bracken"


def test_an_area_in_per_cent_becomes_pixels():
    area = Area(left=Decimal("10"), top=Decimal("0"), width=Decimal("25.5"), height=Decimal("100"))
    box = area.in_pixels(1000, 400)
    assert (box.left, box.top, box.right, box.bottom) == (100, 0, 355, 400)
