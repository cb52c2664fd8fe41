"""A delivery from a CSV: told row by row what is wrong, and nothing is written."""

import csv
import io

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from decor.csv_cells import cell_out
from inventory.deliveries import csv_file
from inventory.deliveries.csv_file import FileRefused, csv_read, text_of
from inventory.deliveries.rows import COLUMNS, RowReader
from inventory.models import Bag

GOOD = (
    "item,lot,count,bags,cost,place,note\nFern 11-inch,B2,100,3,16.50,Cupboard,dry\nplum 5,,,,,,\n"
)
FIXTURES_ARE_CONSTANT = settings(suppress_health_check=[HealthCheck.function_scoped_fixture])


def rows(text: str, reader: RowReader) -> list[tuple]:
    read = csv_read(text, RowReader(reader.items, reader.usual))
    assert all(row.row for row in read), [row.problems for row in read]
    return [
        (str(r.item), r.lot, r.printed_count, r.bags, r.cost_cents, r.place, r.note)
        for r in (row.row for row in read)
    ]


EXPECTED = [
    ("Fern 11-inch", "B2", 100, 3, 1650, "Cupboard", "dry"),
    ("Plum 5-inch", "", 100, 1, 1650, "Cupboard", ""),
]


@pytest.mark.parametrize(
    "content",
    [
        GOOD.encode(),
        b"\xef\xbb\xbf" + GOOD.encode(),
        GOOD.replace(",", ";").replace("16.50", "16,50").encode(),
        ("sep=;\n" + GOOD.replace(",", ";").replace("16.50", "16,50")).encode(),
        GOOD.replace(",", "\t").encode(),
        GOOD.replace("\n", "\r\n").encode(),
        GOOD.replace("\nplum", "\n\n , ,\nplum").encode(),
        GOOD.replace("item,lot", " Item ,LOT").encode(),
        GOOD.replace("16.50", '"16,50"').replace("dry", '"dry"').encode(),
        GOOD.replace("\n", ",,\n").encode(),
    ],
    ids=["plain", "bom", "semicolons", "sep", "tabs", "crlf", "blanks", "caps", "quoted", "tail"],
)
def test_files_as_spreadsheets_write_them_are_understood(reader: RowReader, content: bytes):
    assert rows(text_of(content), reader) == EXPECTED


def test_columns_may_stand_in_any_order_and_be_left_out(reader: RowReader):
    text = "bags;item\n2;fern 5\n"
    assert rows(text, reader) == [("Fern 5-inch", "", 100, 2, 1650, "", "")]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", csv_file.EMPTY),
        ("\n \n,,\n", csv_file.EMPTY),
        ("item,lot\n", csv_file.NO_ROWS),
        ("name,count\nfern 5,3\n", csv_file.NO_ITEM_COLUMN.format(found="name, count")),
        ("fern 5\n", csv_file.NO_ITEM_COLUMN.format(found="fern 5")),
        ("item,colour\nfern 5,green\n", "These columns are not known: colour."),
        ("item,,lot\nfern 5,,b\n", "not known: (no name)"),
        ("item,lot,Lot\nfern 5,a,b\n", csv_file.COLUMN_TWICE.format(name="lot")),
        ('item,lot\nfern 5,"open\nplum 5,b\n', "Line 2 cannot be read"),
    ],
)
def test_a_file_that_is_wrong_as_a_whole_says_how(reader: RowReader, text: str, told: str):
    with pytest.raises(FileRefused) as refused:
        csv_read(text, reader)
    assert told in str(refused.value)


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (GOOD.encode("utf-16"), csv_file.NOT_UTF8),
        ("item\nfougère 5".encode("cp1252"), csv_file.NOT_UTF8),
        (b"PK\x03\x04\xff\xfe rest of a zip", csv_file.NOT_UTF8),
        (b"item\n" + b"x" * 1_000_000, csv_file.TOO_BIG),
    ],
)
def test_a_file_that_is_no_plain_text_says_what_to_do(content: bytes, told: str):
    with pytest.raises(FileRefused, match="^" + told[:40]):
        text_of(content)


def test_ten_thousand_rows_are_refused_before_any_is_read(reader: RowReader):
    text = "item\n" + "fern 5\n" * 10_000
    with pytest.raises(FileRefused) as refused:
        csv_read(text, reader)
    assert str(refused.value).startswith("This file has 10,000 rows.")


def test_wrong_cells_are_told_by_line_and_column(reader: RowReader):
    text = (
        "item,count,cost,lot\n"
        "fern 5,0,16.50,a\n"
        "\n"
        "moss,10,1,b\n"
        "plum 5,3,2.00,c\n"
        "fern 5,3,2.00,c,surplus\n"
        "fern 5,3,2.00,a\u200bb\n"
    )
    read = csv_read(text, reader)

    told = {row.number: set(row.problems) for row in read if row.problems}
    assert told == {2: {"count"}, 4: {"item"}, 6: {"item"}, 7: {"lot"}}
    assert read[3].problems["item"] == csv_file.TOO_MANY_CELLS
    assert read[4].problems["lot"] == csv_file.CONTROL_SIGN
    assert read[2].row is not None
    assert not Bag.objects.exists()


@pytest.mark.parametrize(
    "cell", ["=cmd|'/c calc'!A1", "+1+1", "-2+3", "@SUM(A1)", "＝1", " =1", "\t=1", '"=1"']
)
@pytest.mark.parametrize("column", ["item", "lot", "place", "note"])
def test_a_formula_is_never_taken(reader: RowReader, column: str, cell: str):
    columns = ["item", column] if column != "item" else ["item"]
    cells = ["fern 5", cell] if column != "item" else [cell]
    (row,) = csv_read(";".join(columns) + "\n" + ";".join(cells) + "\n", reader)

    assert row.row is None
    assert row.problems[column] == csv_file.FORMULA


@pytest.mark.parametrize("cell", ["=1+1", "@1"])
def test_a_formula_is_no_number(reader: RowReader, cell: str):
    (row,) = csv_read(f"item,count\nfern 5,{cell}\n", reader)
    assert row.problems["count"] == csv_file.FORMULA


def test_what_our_own_exports_escaped_comes_back_as_it_was(reader: RowReader):
    (row,) = csv_read(f"item,lot\nfern 5,{cell_out('-7 west')}\n", reader)
    assert row.row.lot == "-7 west"


@FIXTURES_ARE_CONSTANT
@given(text=st.text(max_size=400))
def test_any_text_is_read_or_refused_in_words(reader: RowReader, text: str):
    _read_or_refused("item,lot,count,bags,cost,place,note\n" + text, reader)
    _read_or_refused(text, reader)


@FIXTURES_ARE_CONSTANT
@given(content=st.binary(max_size=400))
def test_any_bytes_are_read_or_refused_in_words(reader: RowReader, content: bytes):
    try:
        text = text_of(content)
    except FileRefused as refused:
        assert str(refused)
    else:
        _read_or_refused(text, reader)


CELLS = st.one_of(
    st.sampled_from(["fern 5", "Plum 11-inch", "fern", "=cmd", "16,50", "0", "-3", "none", ""]),
    st.text(max_size=12),
)


@FIXTURES_ARE_CONSTANT
@given(
    table=st.lists(st.lists(CELLS, min_size=7, max_size=7), min_size=1, max_size=6),
    separator=st.sampled_from([",", ";", "\t"]),
    bom=st.booleans(),
)
def test_a_row_is_either_sound_or_says_what_is_wrong(
    reader: RowReader, table: list[list[str]], separator: str, bom: bool
):
    file = io.StringIO()
    csv.writer(file, delimiter=separator).writerows([COLUMNS, *table])
    _read_or_refused(("\ufeff" if bom else "") + file.getvalue(), reader)


def _read_or_refused(text: str, reader: RowReader) -> None:
    try:
        read = csv_read(text, RowReader(reader.items, reader.usual))
    except FileRefused as refused:
        assert str(refused)
        return
    for row in read:
        assert (row.row is None) == bool(row.problems)
        assert set(row.problems) <= set(COLUMNS)
        if row.row:
            assert row.row.printed_count > 0 and row.row.bags > 0 and row.row.cost_cents >= 0
            for words in (row.row.lot, row.row.place, row.row.note):
                assert words.isprintable()
