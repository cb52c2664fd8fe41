"""Where a request comes from, as far as it can be believed."""

from ipaddress import IPv6Address, ip_address, ip_network

from django.conf import settings
from django.http import HttpRequest

NOBODY = "unknown"
# One household or server has a whole network of these: RFC 6177, section 2.
IPV6_PREFIX = 64


def address_of(request: HttpRequest, *args: object) -> str | None:
    """Each of our PROXY_COUNT proxies adds whom it saw at the end of X-Forwarded-For; what stands
    before those may be anybody's invention. None where it is no address."""
    seen = request.META.get("HTTP_X_FORWARDED_FOR", "").split(",")
    proxies = settings.PROXY_COUNT
    said = seen[-proxies] if 0 < proxies <= len(seen) else request.META.get("REMOTE_ADDR", "")
    return _as_address(said.strip())


def network_of(address: str | None) -> str:
    """By whom to count: an IPv4 address, or the network of an IPv6 one."""
    if address is None or ":" not in address:
        return address or NOBODY
    return str(ip_network(f"{address}/{IPV6_PREFIX}", strict=False))


def _as_address(said: str) -> str | None:
    try:
        found = ip_address(said)
    except ValueError:
        return None
    if isinstance(found, IPv6Address) and found.ipv4_mapped:
        found = found.ipv4_mapped
    return str(found).partition("%")[0]
