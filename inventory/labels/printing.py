"""Labels for bags, each with a code that opens its bag on a phone."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

import segno
from django.utils.safestring import SafeString

from decor.documents.codes import code_svg
from decor.documents.pdf import render_pdf
from inventory.labels.sheets import LabelSheet
from inventory.models import Bag

TEMPLATE = "inventory/labels/labels.html"
LABELS_MOST = 300
T = TypeVar("T")
TOO_MANY = f"At most {LABELS_MOST} labels at a time."


class LabelsRefused(Exception):
    """These labels cannot be printed; the message says why."""


@dataclass(frozen=True)
class Label:
    bag: Bag
    code: SafeString


def labels_pdf(
    *, bags: Sequence[Bag], sheet: LabelSheet, first: int, address_of: Callable[[Bag], str]
) -> bytes:
    """`first`: the label to begin with, from 1, where a sheet is begun already. `address_of`
    gives the whole address that a bag's code holds."""
    if len(bags) > LABELS_MOST:
        raise LabelsRefused(TOO_MANY)
    labels: list[Label | None] = [None] * (first - 1)
    labels += [Label(bag, address_code(address_of(bag))) for bag in bags]
    rows = list(_batched(labels, sheet.columns))
    pages = list(_batched(rows, sheet.rows))
    return render_pdf(TEMPLATE, {"pages": pages, "sheet": sheet}, sheet.paper)


def address_code(address: str) -> SafeString:
    """Mends itself where up to 15 % is dirty or torn (level M)."""
    return code_svg(segno.make_qr(address, error="m", boost_error=False), css_class="code")


def _batched(things: Sequence[T], size: int) -> Iterator[Sequence[T]]:
    return (things[at : at + size] for at in range(0, len(things), size))
