"""A delivery from a CSV: read whole, told row by row, and nothing written."""

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from decor.csv_cells import cell_in, is_formula
from inventory.deliveries.rows import COLUMNS, ReadRow, RowReader

ROWS_MOST = 1000
BYTES_MOST = 1_000_000
NUMBERS = ("count", "bags", "cost")
SEPARATORS = (",", ";", "\t")

TOO_BIG = "This file is larger than 1 MB. A delivery is a few lines: is it the right file?"
NOT_UTF8 = "This file is not in UTF-8. Save it again from the spreadsheet, choosing “CSV UTF-8”."
EMPTY = "There is nothing in it. The first line names the columns, each further line is a row."
NO_ITEM_COLUMN = (
    "The first line must name the columns, and one of them must be “item”. It says: {found}."
)
UNKNOWN_COLUMNS = "These columns are not known: {names}. Known are: " + ", ".join(COLUMNS) + "."
COLUMN_TWICE = "The column “{name}” is there twice."
NO_ROWS = "The columns are named, but there is no row below them."
TOO_MANY = "This file has {rows:,} rows. A delivery has at most 1,000: split it."
BROKEN = "Line {line} cannot be read: {why}. Is a quotation mark open?"
FORMULA = "A formula is not taken: write plain text or a plain number."
TOO_MANY_CELLS = (
    "There are more cells than columns. Put a text that holds the separator in quotation marks."
)
CONTROL_SIGN = "There is a sign in it that cannot be seen. Type the cell again."


class FileRefused(Exception):
    """The file as a whole cannot be read; the message says why."""


@dataclass(frozen=True)
class _Line:
    number: int
    cells: list[str]


def text_of(content: bytes) -> str:
    if len(content) > BYTES_MOST:
        raise FileRefused(TOO_BIG)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise FileRefused(NOT_UTF8) from None


def csv_read(text: str, reader: RowReader) -> list[ReadRow]:
    """Every row with what it says or what is wrong with it; numbers are lines of the file."""
    lines = list(_lines(text.removeprefix("\ufeff")))
    if not lines:
        raise FileRefused(EMPTY)
    columns = _columns(lines[0].cells)
    if len(lines) == 1:
        raise FileRefused(NO_ROWS)
    if len(lines) - 1 > ROWS_MOST:
        raise FileRefused(TOO_MANY.format(rows=len(lines) - 1))
    return [_row(line, columns, reader) for line in lines[1:]]


def _lines(text: str) -> Iterator[_Line]:
    """Those that are not blank. A first line `sep=;`, as some spreadsheets write it, is obeyed."""
    first, _, rest = text.partition("\n")
    stated = first.strip().lower().removeprefix("sep=") if first.lower().startswith("sep=") else ""
    skipped = 1 if stated in SEPARATORS else 0
    separator = stated if skipped else _separator(first)
    rows = csv.reader(
        io.StringIO(rest if skipped else text, newline=""), delimiter=separator, strict=True
    )
    while True:
        start = rows.line_num + skipped + 1
        try:
            cells = next(rows, None)
        except csv.Error as broken:
            raise FileRefused(BROKEN.format(line=start, why=broken)) from None
        if cells is None:
            return
        if any(cell.strip() for cell in cells):
            yield _Line(start, cells)


def _separator(first: str) -> str:
    return max(SEPARATORS, key=first.count)


def _columns(cells: list[str]) -> list[str]:
    names = [cell.strip().casefold() for cell in cells]
    while names and not names[-1]:
        names.pop()
    if "item" not in names:
        raise FileRefused(NO_ITEM_COLUMN.format(found=", ".join(cells)[:120]))
    unknown = [name or "(no name)" for name in names if name not in COLUMNS]
    if unknown:
        raise FileRefused(UNKNOWN_COLUMNS.format(names=", ".join(unknown)[:120]))
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice:
        raise FileRefused(COLUMN_TWICE.format(name=twice))
    return names


def _row(line: _Line, columns: list[str], reader: RowReader) -> ReadRow:
    cells = dict(zip(columns, line.cells, strict=False))
    problems = {name: told for name, cell in cells.items() if (told := _refusal(name, cell))}
    if any(cell.strip() for cell in line.cells[len(columns) :]):
        problems["item"] = TOO_MANY_CELLS
    read = reader.read(line.number, {name: cell_in(cell) for name, cell in cells.items()})
    if problems:
        return ReadRow(line.number, read.typed, problems={**read.problems, **problems})
    return read


def _refusal(name: str, cell: str) -> str:
    text = cell.strip()
    if name in NUMBERS and text.startswith(("-", "+")):
        return ""  # a number below zero: its own message says more
    if is_formula(text):
        return FORMULA
    return "" if text.isprintable() else CONTROL_SIGN


def example_csv() -> Mapping[str, str]:
    """What a file may look like, for the page."""
    return {
        "columns": ",".join(COLUMNS),
        "row": "Fern 11-inch,B2207,100,3,16.50,Cupboard,",
    }
