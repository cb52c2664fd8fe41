"""The buy list as a CSV, for a supplier or a spreadsheet."""

import csv
from collections.abc import Iterator
from decimal import Decimal
from io import StringIO

from decor.csv_cells import cell_out
from inventory.buying.service import BuyLine, BuyList, ToOrder

COLUMNS = (
    "supplier", "order by", "item", "bags", "in a bag", "price of a bag", "price",
    "short", "left over", "needed on", "arrives on", "for",
)  # fmt: skip


def buy_list_csv(bought: BuyList) -> str:
    """With a byte order mark, without which spreadsheets misread accents."""
    out = StringIO()
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for row in _rows(bought):
        writer.writerow([cell_out(cell) for cell in row])
    return "\ufeff" + out.getvalue()


def _rows(bought: BuyList) -> Iterator[list[str]]:
    for order in bought.orders:
        for line in order.lines:
            yield from _rows_of(order, line)
        if order.delivery_cents:
            yield [*_who(order), "delivery", "", "", "", _money(order.delivery_cents), *[""] * 5]


def _rows_of(order: ToOrder, line: BuyLine) -> Iterator[list[str]]:
    jobs = ", ".join(dict.fromkeys(asking.job.title for asking in line.shortfall.asking))
    for bags in line.bags:
        yield [
            *_who(order),
            str(line.shortfall.item),
            str(bags.bags),
            str(bags.bag_count),
            _money(bags.bag_cents),
            _money(bags.cents),
            str(line.shortfall.quantity),
            str(line.left_over),
            line.when.needed_on.isoformat(),
            line.when.arrives_on.isoformat() if line.when.arrives_on else "",
            jobs,
        ]


def _who(order: ToOrder) -> list[str]:
    return [str(order.supplier or "no supplier yet"), order.when.order_by.isoformat()]


def _money(cents: int) -> str:
    return f"{Decimal(cents) / 100:.2f}"
