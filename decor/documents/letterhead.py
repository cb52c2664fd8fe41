"""Whose paper it is: at the head of every document."""

from collections.abc import Mapping
from typing import Any

from decor.documents.fetcher import media_url
from decor.models import Business

NAMED = ("name", "strapline", "phone", "email", "address")


def letterhead(business: Mapping[str, Any]) -> dict[str, str]:
    """From what an edition froze of the business."""
    reach = (business["phone"], business["email"], business["address"])
    return {
        "name": business["name"],
        "strapline": business["strapline"],
        "logo_url": media_url(business["logo"]) if business["logo"] else "",
        "reach": "\n".join(line for line in reach if line),
    }


def letterhead_now(business: Business) -> dict[str, str]:
    named = {name: getattr(business, name) for name in NAMED}
    return letterhead({**named, "logo": business.logo.name})
