"""A table of a report for a spreadsheet: amounts and per cents as plain numbers."""

import csv
from decimal import Decimal
from io import StringIO

from decor.csv_cells import cell_out
from quoting.reports.table import Amount, Cell, Count, Share, Table


def table_csv(table: Table) -> str:
    """With a byte order mark, without which spreadsheets misread accents."""
    out = StringIO()
    writer = csv.writer(out)
    writer.writerow(table.columns)
    writer.writerows([_said(cell) for cell in row] for row in table.rows)
    if table.total:
        writer.writerow([_said(cell) for cell in table.total])
    return "\ufeff" + out.getvalue()


def _said(cell: Cell) -> str:
    """Numbers are our own and may begin with a minus; words are anybody's."""
    match cell:
        case Amount(cents):
            return f"{Decimal(cents) / 100:.2f}"
        case Count(number):
            return str(number)
        case Share(None):
            return ""
        case Share(basis_points):
            return f"{Decimal(basis_points) / 100:.2f}"
    return cell_out(cell.text)
