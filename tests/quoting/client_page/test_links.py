import base64
import hashlib
from datetime import UTC, datetime, timedelta

from django.core.serializers import serialize

from quoting.client_page.links import (
    client_page_url,
    link_make,
    link_of_token,
    link_opened,
    link_revoke,
)
from quoting.models import ClientLink
from tests.factories import QuoteFactory

NOW = datetime(2026, 6, 13, 15, tzinfo=UTC)


def test_a_token_has_256_bits_and_only_its_fingerprint_is_kept(db):
    link, token = link_make(quote=QuoteFactory(), by=None, now=NOW)
    assert len(base64.urlsafe_b64decode(f"{token}=")) == 32
    assert link.token_sha256 == hashlib.sha256(token.encode()).hexdigest()
    assert token not in serialize("json", ClientLink.objects.all())


def test_every_link_has_its_own_token(db):
    quote = QuoteFactory()
    assert len({link_make(quote=quote, by=None, now=NOW)[1] for _ in range(20)}) == 20


def test_a_link_is_found_by_its_token_alone(db):
    link, token = link_make(quote=QuoteFactory(), by=None, now=NOW)
    assert link_of_token(token) == link
    for other in (token[:-1], f"{token}A", token.swapcase(), "", link.token_sha256):
        assert link_of_token(other) is None


def test_a_revoked_link_keeps_when_it_was_revoked_first(db):
    link, token = link_make(quote=QuoteFactory(), by=None, now=NOW)
    link_revoke(link=link, now=NOW + timedelta(hours=1))
    link_revoke(link=link, now=NOW + timedelta(hours=2))
    assert link_of_token(token).revoked_at == NOW + timedelta(hours=1)


def test_a_link_knows_when_it_was_opened_first_and_last(db):
    link, _ = link_make(quote=QuoteFactory(), by=None, now=NOW)
    for hours in (1, 2, 3):
        link_opened(link=link, now=NOW + timedelta(hours=hours))
    link.refresh_from_db()
    assert (link.first_opened_at, link.last_opened_at) == (
        NOW + timedelta(hours=1),
        NOW + timedelta(hours=3),
    )


def test_the_address_for_a_letter_is_of_this_site_whatever_a_request_says(db, settings):
    settings.SITE_URL = "https://larkspurlane.example"
    assert client_page_url("abc") == "https://larkspurlane.example/q/abc/"
