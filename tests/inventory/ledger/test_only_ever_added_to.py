"""No way leads to a ledger line but adding one: not in our code, and there is no admin."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.apps import apps

ROOT = Path(__file__).parents[3]
ROOMS = ("decor", "inventory", "quoting")
CHANGING = {
    "update", "aupdate", "delete", "adelete", "bulk_update", "abulk_update", "update_or_create",
    "aupdate_or_create", "_raw_delete", "raw",
}  # fmt: skip
LINES = re.compile(r"\bLedgerLine\b|\bledger_lines\b|\bbag\.lines\b|\blines_of_(bag|item)\b")
GUARDS = "inventory/ledger/guards.py"
SETS_LEFT = re.compile(r"(update|defaults|Bag)\([^)]*\b(left|is_open)\s*=(?!=)", re.DOTALL)


def sources() -> Iterator[tuple[str, str]]:
    for room in ROOMS:
        for path in sorted((ROOT / room).rglob("*.py")):
            if "migrations" not in path.parts:
                yield str(path.relative_to(ROOT)), path.read_text()


def changing_calls(text: str) -> list[str]:
    return [
        ast.unparse(node)
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in CHANGING
        and LINES.search(ast.unparse(node))
    ]


def test_no_code_changes_or_removes_a_line() -> None:
    found = {name: calls for name, text in sources() if (calls := changing_calls(text))}

    assert found == {}


@pytest.mark.parametrize(
    "code",
    [
        "LedgerLine.objects.filter(bag=bag).update(quantity=3)",
        "job.ledger_lines.all().delete()",
        "bag.lines.bulk_update(lines, ['why'])",
    ],
)
def test_the_search_would_find_one(code: str) -> None:
    assert changing_calls(code)


def test_only_the_guards_speak_sql_about_the_ledger() -> None:
    speakers = {name for name, text in sources() if "inventory_ledgerline" in text}

    assert speakers == {GUARDS}


def test_no_code_sets_what_is_left_in_a_bag() -> None:
    """The database does, from the lines."""
    assert {name for name, text in sources() if SETS_LEFT.search(text)} <= {GUARDS}
    assert SETS_LEFT.search("Bag.objects.filter(pk=1).update(left=3)")


def test_there_is_no_admin() -> None:
    assert not apps.is_installed("django.contrib.admin")
