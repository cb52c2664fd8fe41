"""Private addresses of client pages. A token is told once; what is kept is only its fingerprint."""

import hashlib
import secrets
from datetime import datetime

from django.conf import settings
from django.contrib.auth.models import User
from django.urls import reverse

from quoting.models import ClientLink, Quote

TOKEN_BYTES = 32  # 256 bits: nobody guesses one, so a plain fast hash of it is enough
LONGEST_TOKEN = 100


def link_make(*, quote: Quote, by: User | None, now: datetime) -> tuple[ClientLink, str]:
    """The token can be read here and never again."""
    token = secrets.token_urlsafe(TOKEN_BYTES)
    link = ClientLink.objects.create(
        quote=quote, token_sha256=token_sha256(token), made_at=now, made_by=by
    )
    return link, token


def link_revoke(*, link: ClientLink, now: datetime) -> None:
    """From now on it opens nothing. Revoking twice changes nothing."""
    ClientLink.objects.filter(pk=link.pk, revoked_at=None).update(revoked_at=now)
    link.refresh_from_db()


def link_opened(*, link: ClientLink, now: datetime) -> None:
    ClientLink.objects.filter(pk=link.pk, first_opened_at=None).update(first_opened_at=now)
    ClientLink.objects.filter(pk=link.pk).update(last_opened_at=now)


def link_of_token(token: str) -> ClientLink | None:
    """Revoked ones too: their page says so."""
    links = ClientLink.objects.select_related("quote__job__client")
    return links.filter(token_sha256=token_sha256(token)).first()


def token_sha256(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def client_page_url(token: str) -> str:
    """Absolute, for a letter or a message. It must not follow the host that a request names."""
    return f"{settings.SITE_URL}{reverse('client_page_open', args=[token])}"
