from datetime import UTC, datetime, timedelta

import pytest
from django.test import RequestFactory

from decor.models import RateCount
from decor.throttle.addresses import address_of, network_of
from decor.throttle.service import KEPT, is_past, too_often

NOW = datetime(2026, 6, 13, 15, 0, 30, tzinfo=UTC)


def comes(times: int, *, key: str = "open:192.0.2.7", now: datetime = NOW) -> list[bool]:
    return [too_often(key=key, most=3, seconds=60, now=now) for _ in range(times)]


def test_who_comes_more_often_than_allowed_is_told_so(db):
    assert comes(5) == [False, False, False, True, True]
    assert RateCount.objects.get().count == 3


def test_a_new_window_begins_anew_and_others_are_not_counted_in(db):
    comes(4)
    assert comes(1, key="open:192.0.2.8") == [False]
    assert comes(1, now=NOW + timedelta(seconds=29)) == [True]
    assert comes(1, now=NOW + timedelta(seconds=30)) == [False]


def test_looking_whether_it_was_too_often_counts_nothing(db):
    comes(2)
    asked = {"key": "open:192.0.2.7", "most": 3, "seconds": 60, "now": NOW}
    assert not is_past(**asked)
    comes(1)
    assert is_past(**asked)
    assert RateCount.objects.get().count == 3


def test_who_came_from_where_is_forgotten_after_a_day(db):
    comes(2)
    comes(1, key="open:192.0.2.8", now=NOW + KEPT + timedelta(minutes=2))
    assert [count.key for count in RateCount.objects.all()] == ["open:192.0.2.8"]


@pytest.mark.parametrize(
    ("proxies", "forwarded", "remote", "expected"),
    [
        (0, "", "192.0.2.7", "192.0.2.7"),
        (0, "203.0.113.9", "192.0.2.7", "192.0.2.7"),  # nobody to believe
        (1, "203.0.113.9", "10.0.0.2", "203.0.113.9"),
        (1, "198.51.100.1, 203.0.113.9", "10.0.0.2", "203.0.113.9"),  # the first is made up
        (2, "198.51.100.1, 203.0.113.9, 10.0.0.3", "10.0.0.2", "203.0.113.9"),
        (2, "203.0.113.9", "10.0.0.2", "10.0.0.2"),  # it came past a proxy
        (1, "<script>", "10.0.0.2", None),
        (0, "", "::ffff:192.0.2.7", "192.0.2.7"),
        (0, "", "fe80::1%eth0", "fe80::1"),
        (0, "", "", None),
    ],
)
def test_an_address_is_what_our_own_proxies_saw(settings, proxies, forwarded, remote, expected):
    settings.PROXY_COUNT = proxies
    headers = {"HTTP_X_FORWARDED_FOR": forwarded} if forwarded else {}
    request = RequestFactory().get("/", REMOTE_ADDR=remote, **headers)
    assert address_of(request) == expected


def test_a_whole_ipv6_network_is_counted_as_one():
    """RFC 6177, section 2: an end site is given at least one /64."""
    assert network_of("2001:db8:1:2:aaaa::1") == network_of("2001:db8:1:2:bbbb::9")
    assert network_of("2001:db8:1:2::1") != network_of("2001:db8:1:3::1")
    assert network_of("192.0.2.7") == "192.0.2.7"
    assert network_of(None) == "unknown"
