"""The making sheet and the labels of packing bags on paper."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TypeVar

from decor.documents.pdf import render_pdf
from decor.models import Business
from quoting.making.cards import card_sections
from quoting.making.sheet import Sheet

SHEET_TEMPLATE = "quoting/making/sheet_pdf.html"
LABELS_TEMPLATE = "quoting/making/labels_pdf.html"
LABELS_ACROSS, LABELS_DOWN = 2, 3
T = TypeVar("T")


@dataclass(frozen=True, kw_only=True)
class BagLabel:
    number: int
    of: int
    what: list[str]
    where: str

    @property
    def is_first(self) -> bool:
        return self.number == 1

    @property
    def before(self) -> int:
        return self.number - 1


def sheet_pdf(sheet: Sheet, *, business: Business, now: datetime) -> bytes:
    context = {
        "sheet": sheet,
        "job": sheet.job,
        "business": business,
        "sections": card_sections([sheet]),
        "now": now,
    }
    return render_pdf(SHEET_TEMPLATE, context, business.paper)


def bag_labels(sheet: Sheet) -> list[BagLabel]:
    """In the order of packing: the last bag first. One packed before says what went into it."""
    kept = {each.number: each.contents for each in sheet.job.packed_bags.all()}
    return [
        BagLabel(
            number=shown.load.number,
            of=len(sheet.loads),
            what=kept.get(shown.load.number, {}).get("what", shown.what),
            where=kept.get(shown.load.number, {}).get("where", shown.where),
        )
        for shown in sheet.loads
    ]


def labels_pdf(sheet: Sheet, *, business: Business) -> bytes:
    rows = list(_batched(bag_labels(sheet), LABELS_ACROSS))
    context = {
        "job": sheet.job,
        "business": business,
        "pages": list(_batched(rows, LABELS_DOWN)) or [[]],
    }
    return render_pdf(LABELS_TEMPLATE, context, business.paper)


def _batched(things: Sequence[T], size: int) -> Iterator[Sequence[T]]:
    return (things[at : at + size] for at in range(0, len(things), size))
