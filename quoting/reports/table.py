"""What every report is made of: a table, and bars that show the same."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from quoting.estimator.money import round_cents


@dataclass(frozen=True)
class Amount:
    cents: int
    kind = "amount"


@dataclass(frozen=True)
class Count:
    number: int
    kind = "count"


@dataclass(frozen=True)
class Share:
    """Basis points; None where there is nothing to take a share of."""

    basis_points: int | None
    kind = "share"


@dataclass(frozen=True)
class Words:
    text: str
    url: str = ""
    kind = "words"


Cell = Amount | Count | Share | Words
Row = tuple[Cell, ...]


@dataclass(frozen=True, kw_only=True)
class Table:
    """`key` names it in an address. The first cell of a row says what the row is about."""

    key: str
    caption: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    total: Row | None = None
    first_are_words: int = 1


@dataclass(frozen=True)
class Series:
    """One bar of each month. `look` is a class of reports.css."""

    name: str
    look: str
    cents: tuple[int, ...]


@dataclass(frozen=True, kw_only=True)
class Report:
    """`headline` is the number that people wait for, `says` what it is. Without `has_any` there
    is nothing to tell of these days."""

    key: str
    title: str
    headline: Amount
    says: str
    notes: tuple[str, ...]
    tables: tuple[Table, ...]
    series: tuple[Series, ...]
    has_any: bool


def share_of(part: int, whole: int) -> Share:
    """Half a basis point is rounded away from zero, as everywhere."""
    return Share(round_cents(Decimal(part) * 10_000 / whole) if whole else None)


def sums(columns: Iterable[Iterable[int]]) -> tuple[Amount, ...]:
    return tuple(Amount(sum(column)) for column in columns)
