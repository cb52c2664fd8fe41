"""No page asks anything of the internet, and none needs what the content policy forbids."""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from django.conf import settings
from django.contrib.staticfiles import finders
from django.template.loader import render_to_string
from django.urls import reverse

APP_CSS = sorted(settings.BASE_DIR.glob("*/static/**/*.css"))
TEMPLATES = sorted((settings.BASE_DIR / "templates").rglob("*.html"))
ASSETS = {"link": "href", "script": "src", "img": "src", "use": "href", "iframe": "src"}
# Bootstrap's parts whose pictures are data: addresses that no rule of ours stands in for.
FORBIDDEN_PARTS = ("accordion", "navbar", "carousel", "form-switch", "data-bs-")


class Tags(HTMLParser):
    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def assets(self) -> list[str]:
        return [
            attrs[ASSETS[tag]] or ""
            for tag, attrs in self.tags
            if tag in ASSETS and attrs.get(ASSETS[tag]) is not None
        ]


def assert_self_contained(page: str) -> None:
    tags = Tags(page)
    for tag, attrs in tags.tags:
        assert "style" not in attrs, (tag, attrs)
        assert tag != "style"
        assert not [name for name in attrs if name.startswith("on")], (tag, attrs)
        assert tag != "script" or attrs.get("src"), "an inline script"
    assert tags.assets()
    for address in tags.assets():
        assert address.startswith("/static/"), address
        name = address.removeprefix("/static/").split("#")[0]
        assert finders.find(name), f"{address} is not served"


@pytest.mark.parametrize(
    "name", ["home", "job_list", "client_list", "enquiry_new", "catalogue", "rate_card_list"]
)
def test_the_owners_pages_are_self_contained(owner_client, name):
    response = owner_client.get(reverse(name), follow=True)
    assert response.status_code == 200
    assert_self_contained(response.content.decode())


def test_the_login_page_is_self_contained(client, business):
    assert_self_contained(client.get(reverse("login")).content.decode())


@pytest.mark.parametrize(
    "name", ["400", "403", "403_csrf", "404", "500", "registration/locked_out"]
)
def test_pages_for_trouble_are_self_contained_and_need_nothing_to_be_shown(name):
    page = render_to_string(f"{name}.html")
    assert_self_contained(page)
    assert "<h1>" in page


def test_a_missing_page_keeps_the_places_in_sight(owner_client):
    response = owner_client.get("/nothing-of-the-kind/")
    assert response.status_code == 404
    assert_self_contained(response.content.decode())
    assert reverse("job_list") in response.content.decode()


@pytest.mark.parametrize("path", APP_CSS, ids=lambda path: path.name)
def test_a_style_sheet_asks_only_for_files_beside_it(path):
    css = re.sub(r"/\*.*?\*/", "", path.read_text(), flags=re.DOTALL)
    assert "@import" not in css
    for address in re.findall(r"url\(\s*[\"']?([^\"')]+)", css):
        assert not re.match(r"([a-z]+:)?//|data:", address), address


def test_every_font_and_picture_of_the_look_is_there():
    asked = {
        address
        for name in ("tokens.css", "theme.css", "forms.css", "parts.css")
        for address in re.findall(
            r'url\("([^"]+)"\)', Path(finders.find(f"decor/{name}")).read_text()
        )
    }
    assert len(asked) >= 6
    for address in asked:
        name = address.removeprefix("../") if address.startswith("../") else f"decor/{address}"
        assert finders.find(name), address


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_a_template_has_no_inline_style_or_script(path):
    text = path.read_text()
    assert not re.search(r"\sstyle=|<style|<script(?![^>]*\ssrc=)|\son\w+=[\"']", text)
    assert not [part for part in FORBIDDEN_PARTS if part in text]
