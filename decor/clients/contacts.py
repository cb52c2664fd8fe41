"""One line that says how to reach someone, told apart into email, phone or something else."""

import re
from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.core.validators import validate_email

from decor.clients.keys import looks_like_phone

EMAIL_IS_INCOMPLETE = (
    "This looks like an email address, but it is not complete. It should be like name@place.org."
)
_LOOKS_LIKE_EMAIL = re.compile(r"[^\s@]+@\S*")


@dataclass(frozen=True)
class Contact:
    """Exactly one of the three is filled."""

    email: str = ""
    phone: str = ""
    other: str = ""


def contact_from_text(text: str) -> Contact:
    """`nell@lane.example`, `(207) 555-0142`, or else as typed (`@quillkettle`, `by the shop`)."""
    text = text.strip()
    if _LOOKS_LIKE_EMAIL.fullmatch(text):
        return Contact(email=_checked_email(text))
    if looks_like_phone(text):
        return Contact(phone=text)
    return Contact(other=text)


def _checked_email(text: str) -> str:
    try:
        validate_email(text)
    except ValidationError:
        raise ValidationError(EMAIL_IS_INCOMPLETE, code="email") from None
    return text
