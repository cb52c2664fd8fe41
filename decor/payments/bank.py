"""Numbers of bank accounts as people type them: spaces and small letters are no mistake."""

import re

from django.core.exceptions import ValidationError

IBAN = re.compile(r"[A-Z]{2}[0-9]{2}[A-Z0-9]{11,30}")
# ISO 9362: four of the bank, the country, two of the place, and three of the branch or none.
BIC = re.compile(r"[A-Z0-9]{4}[A-Z]{2}[A-Z0-9]{2}([A-Z0-9]{3})?")
NOT_AN_IBAN = "An IBAN begins with two letters and two digits, such as DE89 3704 0044 0532 0130 00."
MISTYPED_IBAN = "This IBAN's check digits do not fit: one of its characters is mistyped."
NOT_A_BIC = "A BIC has 8 or 11 characters, such as WEXCDEFFXXX."


def iban_read(typed: str) -> str:
    """Without spaces. Raises ValidationError unless its check digits fit (ISO 13616: modulo 97 by
    ISO 7064, letters counted as 10 to 35, the first four moved to the end)."""
    iban = "".join(typed.split()).upper()
    if not IBAN.fullmatch(iban):
        raise ValidationError(NOT_AN_IBAN, code="iban")
    digits = "".join(str(int(character, 36)) for character in iban[4:] + iban[:4])
    if int(digits) % 97 != 1:
        raise ValidationError(MISTYPED_IBAN, code="iban")
    return iban


def iban_text(iban: str) -> str:
    """In fours, as it is printed."""
    return " ".join(iban[at : at + 4] for at in range(0, len(iban), 4))


def bic_read(typed: str) -> str:
    bic = "".join(typed.split()).upper()
    if not BIC.fullmatch(bic):
        raise ValidationError(NOT_A_BIC, code="bic")
    return bic
