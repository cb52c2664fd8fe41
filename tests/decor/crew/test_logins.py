import re

import pytest
from django.contrib.auth import authenticate
from django.contrib.auth.models import User
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from decor.crew.access import HELPERS_HOME
from decor.crew.logins import (
    HAS_NONE,
    NAME_IS_TAKEN,
    LoginRefused,
    login_make,
    login_put_off,
    login_renew,
    password_for_once,
)
from decor.models import CrewMember
from decor.models.crew import Role

pytestmark = pytest.mark.django_db
ONCE = re.compile(r"\b[a-z2-9]{4}(?:-[a-z2-9]{4}){3}\b")


@pytest.fixture
def new_helper(business) -> CrewMember:
    return CrewMember.objects.create(name="Tomas", role=Role.HELPER)


def logged_in(username: str, password: str) -> Browser:
    browser = Browser()
    reply = browser.post(reverse("login"), {"username": username, "password": password})
    assert reply.status_code == 302
    return browser


def test_a_password_for_once_is_never_the_same_and_can_be_read_out():
    passwords = {password_for_once() for _ in range(200)}
    assert len(passwords) == 200
    assert all(ONCE.fullmatch(password) for password in passwords)
    assert not set("".join(passwords)) & set("01ilo")


def test_the_owner_makes_a_login_and_the_helper_sets_a_password_of_their_own(
    owner_client, new_helper
):
    made = owner_client.post(reverse("crew_login_new", args=[new_helper.pk]), {"username": "tomas"})
    once = ONCE.search(made.text).group()
    assert "no-store" in made["Cache-Control"]
    assert once not in owner_client.get(reverse("crew_list")).text

    browser = logged_in("tomas", once)
    own = reverse("own_password")
    assert browser.get(reverse(HELPERS_HOME)).url == own
    assert browser.get(reverse("job_list")).status_code == 403
    wrong = {"old_password": once, "new_password1": "oat-fern", "new_password2": "oat-firn"}
    assert browser.post(own, wrong).status_code == 422
    assert browser.get(reverse(HELPERS_HOME)).status_code == 302
    right = {**wrong, "new_password1": "copper-oat-77", "new_password2": "copper-oat-77"}
    assert browser.post(own, right).url == reverse("home")
    assert browser.get(reverse(HELPERS_HOME)).status_code == 200
    assert authenticate(None, username="tomas", password=once) is None


def test_a_name_that_another_has_is_said_beside_its_field(owner_client, new_helper):
    page = reverse("crew_login_new", args=[new_helper.pk])
    for taken in ("nell", "Nell"):
        reply = owner_client.post(page, {"username": taken})
        assert reply.status_code == 422
        assert NAME_IS_TAKEN in reply.text
        assert f'value="{taken}"' in reply.text
    assert owner_client.post(page, {"username": "to mas"}).status_code == 422
    assert not User.objects.exclude(username="nell").exists()


def test_a_second_press_makes_no_second_login(owner_client, new_helper):
    page = reverse("crew_login_new", args=[new_helper.pk])
    owner_client.post(page, {"username": "tomas"})
    assert owner_client.post(page, {"username": "tomas2"}).status_code == 302
    assert CrewMember.objects.get().user.username == "tomas"


def test_putting_a_login_off_asks_first_and_ends_it_at_once(owner_client, helpers_browser, tomas):
    page = reverse("crew_login_off", args=[tomas.pk])
    assert "Put it off" in owner_client.get(page).text
    assert helpers_browser.get(reverse(HELPERS_HOME)).status_code == 200
    assert owner_client.post(page).url == reverse("crew_list")
    assert helpers_browser.get(reverse(HELPERS_HOME)).url.startswith(reverse("login"))
    assert authenticate(None, username="tomas", password="oat-fern-copper") is None
    assert "login is off" in owner_client.get(reverse("crew_list")).text


def test_a_new_password_puts_it_on_again_and_ends_what_the_old_one_opened(
    owner_client, helpers_browser, tomas
):
    login_put_off(member=tomas)
    page = reverse("crew_login_renew", args=[tomas.pk])
    assert "stops working" in owner_client.get(page).text
    once = ONCE.search(owner_client.post(page).text).group()
    assert helpers_browser.get(reverse(HELPERS_HOME)).url.startswith(reverse("login"))
    assert logged_in("tomas", once).get(reverse(HELPERS_HOME)).url == reverse("own_password")


def test_only_helpers_who_work_here_get_a_login(new_helper, owner):
    nell = CrewMember.objects.create(name="Nell", role=Role.OWNER, user=owner)
    for refuse in (
        lambda: login_make(member=nell, username="nell2"),
        lambda: login_renew(member=nell),
        lambda: login_put_off(member=nell),
        lambda: login_renew(member=new_helper),
        lambda: login_put_off(member=new_helper),
    ):
        with pytest.raises(LoginRefused):
            refuse()
    with pytest.raises(LoginRefused, match=HAS_NONE.format(name="Tomas")):
        login_renew(member=new_helper)
    new_helper.archived_at = timezone.now()
    new_helper.save()
    with pytest.raises(LoginRefused, match="archived"):
        login_make(member=new_helper, username="tomas")
    owner.refresh_from_db()
    assert owner.is_active


def test_a_helper_cannot_make_or_change_logins(helpers_browser, tomas):
    for name in ("crew_login_new", "crew_login_renew", "crew_login_off", "crew_list"):
        address = reverse(name, args=[] if name == "crew_list" else [tomas.pk])
        assert helpers_browser.post(address, {"username": "other"}).status_code == 403


def test_the_owner_changes_her_own_password_with_the_old_one(owner_client, owner):
    page = reverse("own_password")
    typed = {"new_password1": "seven-oat-balloons", "new_password2": "seven-oat-balloons"}
    assert owner_client.post(page, {"old_password": "no", **typed}).status_code == 422
    assert owner_client.post(page, {"old_password": "six-oat-balloons", **typed}).status_code == 302
    assert owner_client.get(page).status_code == 200
