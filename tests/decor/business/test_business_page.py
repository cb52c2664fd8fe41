import pytest
from django.urls import reverse

from decor.models import Business
from decor.payments.bank import MISTYPED_IBAN, NOT_A_BIC, NOT_AN_IBAN
from tests.decor.pictures import SVG, bytes_named, image_file

SAID = {
    "name": "Larkspur Lane Garlands",
    "owner_name": "Nell Okafor-Hart",
    "strapline": "Made by hand",
    "email": "nell@larkspurlane.example",
    "phone": "(207) 555-0101",
    "address": "1 Larkspur Lane\nWexcombe Bay",
    "how_to_accept": "Write back with yes.",
    "how_to_pay": "By transfer, or cash when we set up.",
    "payment_link": "https://pay.example/larkspur",
    "account_name": "N. Okafor-Hart",
    "account_iban": "DE89370400440532013000",
    "account_bic": "WEXCDEFFXXX",
    "units": "metric",
    "currency": "EUR",
    "paper": "a4",
    "timezone": "Europe/Dublin",
    "ready_before_minutes": 90,
    "arrival_window_minutes": 45,
    "client_page_days": 21,
    "session_minutes_most": 180,
}
PAGE = "/business/"
CLEAR = {"mode": "RGBA", "file_format": "PNG", "colour": (0, 0, 0, 0)}


def kept() -> Business:
    return Business.objects.get()


def test_the_business_is_changed(owner_client):
    assert owner_client.post(PAGE, SAID).url == PAGE
    assert {field: getattr(kept(), field) for field in SAID} == SAID
    assert "Saved." in owner_client.get(PAGE).text


@pytest.mark.parametrize("typed", ["europe/dublin", " Europe/Dublin ", "EUROPE/DUBLIN"])
def test_a_time_zone_is_understood_as_people_write_it(owner_client, typed):
    owner_client.post(PAGE, {**SAID, "timezone": typed})
    assert kept().timezone == "Europe/Dublin"


@pytest.mark.parametrize(
    ("change", "field", "message"),
    [
        ({"name": ""}, "name", "required"),
        ({"timezone": "Mars/Base"}, "timezone", "is not a time zone"),
        ({"timezone": "../etc/passwd"}, "timezone", "is not a time zone"),
        ({"currency": "XXX"}, "currency", "valid choice"),
        ({"units": "cubits"}, "units", "valid choice"),
        ({"email": "nell@"}, "email", "valid email"),
        ({"ready_before_minutes": "-1"}, "ready_before_minutes", "greater than or equal"),
        ({"client_page_days": "-1"}, "client_page_days", "greater than or equal to 0"),
        ({"arrival_window_minutes": "481"}, "arrival_window_minutes", "less than or equal to 480"),
        ({"payment_link": "http://pay.example"}, "payment_link", "valid URL"),
        ({"payment_link": "javascript:alert(1)"}, "payment_link", "valid URL"),
        ({"account_iban": "DE89 3704 0044 0532 0130 01"}, "account_iban", MISTYPED_IBAN),
        ({"account_iban": "12345678"}, "account_iban", NOT_AN_IBAN),
        ({"account_bic": "COBA"}, "account_bic", NOT_A_BIC),
        ({"new_logo": bytes_named("logo.svg", SVG)}, "new_logo", "not a picture we can read"),
    ],
)
def test_a_mistake_is_said_beside_its_field_and_changes_nothing(
    owner_client, change, field, message
):
    reply = owner_client.post(PAGE, {**SAID, "strapline": "Just typed", **change})
    assert reply.status_code == 422
    assert message in reply.context["form"].errors[field][0]
    assert "Just typed" in reply.text
    assert kept().strapline == ""


def test_an_account_is_understood_as_people_write_it_and_shown_in_fours(owner_client):
    typed = {"account_iban": " de89 3704 0044 0532 0130 00", "account_bic": "wexcdeff xxx"}
    owner_client.post(PAGE, {**SAID, **typed, "payment_link": "pay.example/larkspur"})
    assert {field: getattr(kept(), field) for field in SAID} == SAID
    assert "DE89 3704 0044 0532 0130 00" in owner_client.get(PAGE).text


def test_a_logo_is_kept_seen_through_and_sent_only_as_a_picture(owner_client):
    logo = image_file("logo.png", **CLEAR)
    assert owner_client.post(PAGE, {**SAID, "new_logo": logo}).status_code == 302
    reply = owner_client.get(reverse("business_logo"))
    assert reply["Content-Type"] == "image/png"
    assert reply["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert "Your logo now" in owner_client.get(PAGE).text


def test_a_new_logo_takes_the_old_one_s_place(owner_client, django_capture_on_commit_callbacks):
    owner_client.post(PAGE, {**SAID, "new_logo": image_file("one.jpg")})
    old = kept().logo
    with django_capture_on_commit_callbacks(execute=True):
        owner_client.post(PAGE, {**SAID, "new_logo": image_file("two.png", **CLEAR)})
    assert kept().logo.name.endswith(".png")
    assert not old.storage.exists(old.name)


def test_a_good_logo_outlives_a_mistake_elsewhere(owner_client):
    reply = owner_client.post(PAGE, {**SAID, "name": "", "new_logo": image_file()})
    assert reply.status_code == 422
    assert kept().logo
    assert kept().strapline == ""


def test_saving_other_things_keeps_the_logo(owner_client):
    owner_client.post(PAGE, {**SAID, "new_logo": image_file()})
    owner_client.post(PAGE, {**SAID, "strapline": "Other words"})
    assert kept().logo


def test_the_logo_can_be_given_up(owner_client):
    owner_client.post(PAGE, {**SAID, "new_logo": image_file()})
    owner_client.post(PAGE, {**SAID, "no_logo": "on"})
    assert not kept().logo
    assert owner_client.get(reverse("business_logo")).status_code == 404


def test_the_pages_know_their_methods(owner_client):
    assert owner_client.delete(PAGE).status_code == 405
    assert owner_client.post(reverse("business_logo")).status_code == 405
