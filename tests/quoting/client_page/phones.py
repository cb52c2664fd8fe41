"""A client's phone: no scripts, only links and forms."""

from dataclasses import dataclass
from typing import Any

from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import reverse

from quoting.models import ClientLink


@dataclass
class Phone:
    browser: Browser
    link: ClientLink

    def look(self) -> HttpResponse:
        return self.browser.get(self.url("client_page"))

    def accept(self, **said: Any) -> HttpResponse:
        filled = {"edition": 1, "accept-terms": "on", "accept-name": "Imogen Vale"} | said
        return self.browser.post(self.url("client_page_accept"), filled)

    def decline(self, **said: Any) -> HttpResponse:
        filled = {"edition": 1, "decline-why": "day", "decline-words": ""} | said
        return self.browser.post(self.url("client_page_decline"), filled)

    def ask(self, text: str) -> HttpResponse:
        return self.browser.post(self.url("client_page_ask"), {"ask-text": text})

    def url(self, name: str) -> str:
        return reverse(name, args=[self.link.pk])
