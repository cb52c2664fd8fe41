import pytest
from django.test import Client as Browser
from django.urls import reverse

from tests.factories import UserFactory

PASSWORD = "six-oat-balloons"


@pytest.fixture
def nell(business):
    return UserFactory()


def log_in(browser, name="nell", password=PASSWORD, **more):
    return browser.post(reverse("login"), {"username": name, "password": password, **more})


def test_the_owner_logs_in_and_comes_to_her_jobs(client, nell):
    response = log_in(client)
    assert response.status_code == 302
    assert response.url == reverse("home")


def test_a_wrong_password_is_said_and_the_name_stays(client, nell):
    response = log_in(client, password="wrong")
    page = response.content.decode()
    assert response.status_code == 200
    assert "data-form-problems" in page
    assert 'value="nell"' in page
    assert "wrong" not in page


def test_after_logging_in_one_goes_on_to_the_page_one_asked_for(client, nell):
    wanted = reverse("client_list")
    asked = client.get(wanted)
    assert asked.url == f"{reverse('login')}?next={wanted}"
    assert f'value="{wanted}"' in client.get(asked.url).content.decode()
    assert log_in(client, next=wanted).url == wanted


def test_the_way_on_never_leads_to_another_site(client, nell):
    assert log_in(client, next="https://elsewhere.example/").url == reverse("home")


def test_too_many_wrong_passwords_close_the_door_for_a_while(client, nell, settings):
    settings.AXES_ENABLED = True
    for _ in range(settings.AXES_FAILURE_LIMIT - 1):
        assert log_in(client, password="wrong").status_code == 200
    response = log_in(client, password="wrong")
    assert response.status_code == 429
    assert "Too many tries" in response.content.decode()
    assert log_in(client).status_code == 429


def test_others_are_not_shut_out_with_the_one_who_guessed(client, nell, settings):
    settings.AXES_ENABLED = True
    for _ in range(settings.AXES_FAILURE_LIMIT):
        log_in(client, password="wrong")
    elsewhere = Browser(REMOTE_ADDR="192.0.2.7")
    assert log_in(elsewhere).status_code == 302


def test_a_page_that_grew_too_old_says_so_and_how_to_go_on(nell):
    strict = Browser(enforce_csrf_checks=True)
    response = log_in(strict)
    assert response.status_code == 403
    assert "What you typed is kept on this device" in response.content.decode()


def test_logging_out_leads_to_the_login_page_and_needs_a_post(owner_client):
    assert owner_client.get(reverse("logout")).status_code == 405
    assert owner_client.post(reverse("logout")).url == reverse("login")
