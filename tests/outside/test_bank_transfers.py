"""Account numbers and the code for a transfer, against the standards' own examples."""

from io import BytesIO

import pytest
import zxingcpp
from django.core.exceptions import ValidationError
from PIL import Image

from decor.payments.bank import bic_read, iban_read, iban_text
from decor.payments.transfer_code import transfer_code

# The examples of the IBAN registry (ISO 13616), from memory.
EXAMPLES = [
    "AT61 1904 3002 3457 3201",
    "BE68 5390 0754 7034",
    "CH93 0076 2011 6238 5295 7",
    "DE89 3704 0044 0532 0130 00",
    "FR14 2004 1010 0505 0001 3M02 606",
    "GB29 NWBK 6016 1331 9268 19",
    "MT84 MALT 0110 0001 2345 MTLC AST0 01S",
    "NO93 8601 1117 947",
]

# The example of the European Payments Council's guideline (EPC069-12) as it is quoted by public
# libraries' documentation; the lines from memory. Its purpose (CHAR) and its note to the payer
# are optional, and we send neither; its version is 002, in which the BIC may be left out.
SENT = {
    "name": "Red Cross of Belgium",
    "iban": "BE72000000001616",
    "bic": "BPOTBEB1",
    "amount_cents": 100,
    "reference": "Urgency fund",
}
PAYLOAD = [
    "BCD",
    "002",
    "1",
    "SCT",
    "BPOTBEB1",
    "Red Cross of Belgium",
    "BE72000000001616",
    "EUR1",
    "",
    "",
    "Urgency fund",
]


def read(code) -> zxingcpp.Barcode:
    """By another program than the one that drew it."""
    picture = BytesIO()
    code.save(picture, kind="png", scale=4, border=4)
    return zxingcpp.read_barcode(Image.open(picture))


@pytest.mark.parametrize("printed", EXAMPLES)
def test_the_registrys_examples_are_read_and_printed_as_they_stand(printed: str) -> None:
    assert iban_text(iban_read(printed.lower())) == printed


@pytest.mark.parametrize("printed", EXAMPLES)
def test_every_single_mistyped_digit_is_found(printed: str) -> None:
    """ISO 7064 MOD 97-10 finds all single errors."""
    iban = printed.replace(" ", "")
    for at, character in enumerate(iban):
        if character.isdigit():
            other = str((int(character) + 1) % 10)
            with pytest.raises(ValidationError):
                iban_read(iban[:at] + other + iban[at + 1 :])


@pytest.mark.parametrize("typed", ["", "DE", "DE89", "XX00 0000", "DE89-3704-0044", "D" * 40])
def test_what_is_no_iban_is_refused(typed: str) -> None:
    with pytest.raises(ValidationError):
        iban_read(typed)


def test_a_bic_has_eight_or_eleven_characters() -> None:
    """ISO 9362: bank, country, place, and the branch or none."""
    assert bic_read(" bpot be b1 ") == "BPOTBEB1"
    assert bic_read("WEXCDEFFXXX") == "WEXCDEFFXXX"
    for typed in ("WEXCDEF", "WEXCDEFFX", "W3XC1EFF", "WEXCDEFFXXXX"):
        with pytest.raises(ValidationError):
            bic_read(typed)


def test_the_guidelines_example_has_the_guidelines_lines() -> None:
    assert read(transfer_code(**SENT)).text.split("\n") == PAYLOAD


def test_the_code_is_of_level_m_and_at_most_version_13() -> None:
    """EPC069-12, section on the code: fixed level M, version 13 at most, 331 bytes."""
    longest = {"name": "Ä" * 70, "reference": "x" * 60, "amount_cents": 99_999_999_999}
    code = transfer_code(**{**SENT, **longest})
    assert code.error == "M" and code.version <= 13


@pytest.mark.parametrize(
    ("cents", "written"),
    [(1, "EUR0.01"), (29378, "EUR293.78"), (1050, "EUR10.5"), (99_999_999_999, "EUR999999999.99")],
)
def test_cents_arrive_as_they_are(cents: int, written: str) -> None:
    assert read(transfer_code(**{**SENT, "amount_cents": cents})).text.split("\n")[7] == written


def test_a_name_in_letters_of_another_land_is_read_as_it_was_written() -> None:
    payload = read(transfer_code(**{**SENT, "name": "Grüße & Ærø"})).text
    assert payload.split("\n")[5] == "Grüße & Ærø"
