"""A new page needs the owner by default: this walks every address there is."""

from collections.abc import Iterator
from datetime import date

import pytest
from django.urls import URLPattern, URLResolver, get_resolver, reverse

OPEN = {"login"}
# For who has a private address and no account: without it they show nothing, and lead nowhere.
# So do all of a client's pages.
PRIVATE_ADDRESSES = {"calendar_feed"}
# One value of each kind that a path of ours may hold; whether such a row exists does not matter.
EXAMPLES = {
    "int": 1,
    "str": "word",
    "slug": "word",
    "uuid": "0" * 32,
    "path": "a/b",
    "day": date(2026, 6, 13),
}


def every_pattern(patterns: list[URLPattern | URLResolver]) -> Iterator[URLPattern]:
    for pattern in patterns:
        if isinstance(pattern, URLResolver):
            yield from every_pattern(pattern.url_patterns)
        else:
            yield pattern


def kind_of(converter: object) -> str:
    return type(converter).__name__.removesuffix("Converter").lower().replace("string", "str")


def address_of(pattern: URLPattern, *, pk: int = EXAMPLES["int"]) -> str:
    examples = {**EXAMPLES, "int": pk}
    given = {
        name: examples[kind_of(converter)] for name, converter in pattern.pattern.converters.items()
    }
    return reverse(pattern.name, kwargs=given)


PATTERNS = list(every_pattern(get_resolver().url_patterns))


def test_every_page_has_a_name_of_its_own():
    names = [pattern.name for pattern in PATTERNS]
    assert all(names)
    assert len(names) == len(set(names))


def test_the_walk_reaches_every_room():
    assert {"home", "job_list", "client_list", "business_edit", "photo"} <= {
        pattern.name for pattern in PATTERNS
    }


@pytest.mark.parametrize("method", ["get", "post"])
def test_a_stranger_is_sent_to_the_login_page(client, business, method):
    for pattern in PATTERNS:
        address = address_of(pattern)
        reply = getattr(client, method)(address)
        if pattern.name in OPEN:
            assert reply.status_code == 200, pattern.name
        elif pattern.name in PRIVATE_ADDRESSES or pattern.name.startswith("client_page"):
            assert reply.status_code in (403, 404, 405), pattern.name
        else:
            assert reply.status_code == 302, pattern.name
            assert reply.url == f"{reverse('login')}?next={address}", pattern.name
