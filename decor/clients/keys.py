"""What the same person's details look like however they were typed.

Two phone numbers are taken for the same when one, written in bare digits, ends with the other.
So `+1 (207) 555-0142`, `207 555 0142` and `555-0142` meet, and so do `+44 7700 900123` and
`07700 900123`: a country code, or the zero dialled before a number at home, may be missing.
It asks too often rather than too seldom: a person is only ever asked about, never merged.
"""

import re
import unicodedata

# Local numbers without their area have seven digits; E.164 allows fifteen, and some dial codes
# for abroad (such as 011) come in front.
PHONE_DIGITS = range(7, 19)
_LOOKS_LIKE_PHONE = re.compile(r"\+?[\d\s().\-/]+(?:(?:x|ext)\.?\s*\d{1,6})?", re.IGNORECASE)


def name_key(name: str) -> str:
    """Without capitals and accents, single spaces: `Zoë  BRANNIGAN` is `zoe brannigan`."""
    decomposed = unicodedata.normalize("NFKD", name.casefold())
    bare = "".join(c for c in decomposed if not unicodedata.combining(c))
    return " ".join(bare.split())


def email_key(email: str) -> str:
    return email.strip().casefold()


def phone_key(phone: str) -> str:
    """Bare digits, without what is dialled before a number: extension, `(0)`, `00`, `011`, `0`."""
    number = _without_extension(phone).replace("(0)", "")
    digits = "".join(c for c in number if c in "0123456789")
    return digits.removeprefix("011").lstrip("0")


def phone_to_dial(phone: str) -> str:
    """What a phone is asked to dial: bare digits and a leading plus, no extension."""
    number = _without_extension(phone).replace("(0)", "")
    return "".join(c for c in number if c in "+0123456789")


def looks_like_phone(text: str) -> bool:
    is_written_so = _LOOKS_LIKE_PHONE.fullmatch(text.strip()) is not None
    return is_written_so and len(phone_key(text)) in PHONE_DIGITS


def phone_endings(key: str) -> list[str]:
    """The key and every shorter form of it that could be the same number."""
    return [key[start:] for start in range(len(key) - PHONE_DIGITS.start + 1)]


def _without_extension(phone: str) -> str:
    return re.split(r"x|ext", phone.casefold(), maxsplit=1)[0]
