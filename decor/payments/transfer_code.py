"""The open code for a credit transfer in euros, which a banking app reads off paper or a screen.

European Payments Council, EPC069-12 version 2.1: payload version 002, UTF-8, error level M.
"""

from decimal import Decimal

import segno
from segno.helpers import make_epc_qr

UTF_8 = 1
MOST_CENTS = 99_999_999_999


def can_have_code(amount_cents: int) -> bool:
    return 0 < amount_cents <= MOST_CENTS


def transfer_code(
    *, name: str, iban: str, bic: str, amount_cents: int, reference: str
) -> segno.QRCode:
    return make_epc_qr(
        name=name,
        iban=iban,
        bic=bic or None,
        amount=Decimal(amount_cents) / 100,
        text=reference,
        encoding=UTF_8,
    )
