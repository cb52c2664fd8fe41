"""The database's own watch over the ledger, whoever writes to it.

A line, once written, can be neither changed nor removed. What is left in a bag follows each line
in the same statement, and can be set to nothing but the sum of its lines. The triggers are put in
place after every `migrate`. On SQLite they are also lifted before it, as it rebuilds a table to
change it: that would drop the table's own triggers and fail over those that mention it.
"""

from typing import Any

from django.db import connections
from django.db.backends.base.base import BaseDatabaseWrapper

WRITTEN_ONCE = "a ledger line is written once"
SUM_OF_LINES = "what is left in a bag is the sum of its ledger lines"

LINE_UNDELETED = "ledger_line_undeleted"

# SQLite tells of each line as it is written, so the bag follows line by line.
_FOLLOW_LINE = """
    UPDATE inventory_bag
       SET "left" = "left" + NEW.quantity, is_open = (is_open OR NEW.kind = 'opened')
     WHERE id = NEW.bag_id;
"""
_SUM = "(SELECT COALESCE(SUM(quantity), 0) FROM inventory_ledgerline WHERE bag_id = NEW.id)"

_SQLITE = {
    "ledger_line_unchanged": f"""
        BEFORE UPDATE ON inventory_ledgerline
        BEGIN SELECT RAISE(ABORT, '{WRITTEN_ONCE}'); END""",
    LINE_UNDELETED: f"""
        BEFORE DELETE ON inventory_ledgerline
        BEGIN SELECT RAISE(ABORT, '{WRITTEN_ONCE}'); END""",
    "ledger_line_keeps_bag": f"""
        AFTER INSERT ON inventory_ledgerline
        BEGIN {_FOLLOW_LINE} END""",
    "bag_begins_empty": f"""
        BEFORE INSERT ON inventory_bag WHEN NEW."left" <> 0
        BEGIN SELECT RAISE(ABORT, '{SUM_OF_LINES}'); END""",
    "bag_left_is_sum": f"""
        BEFORE UPDATE OF "left" ON inventory_bag WHEN NEW."left" <> {_SUM}
        BEGIN SELECT RAISE(ABORT, '{SUM_OF_LINES}'); END""",
}

# PostgreSQL tells of them when all lines of a statement are written, so the bag follows their sum.
# It is locked first: what is read after that includes whatever another transaction has added.
_FOLLOW_SUM = """
    PERFORM 1 FROM inventory_bag WHERE id = NEW.bag_id FOR NO KEY UPDATE;
    UPDATE inventory_bag
       SET "left" = (SELECT SUM(quantity) FROM inventory_ledgerline WHERE bag_id = NEW.bag_id),
           is_open = (is_open OR NEW.kind = 'opened')
     WHERE id = NEW.bag_id;
"""
_REFUSE_LINE = f"RAISE EXCEPTION '{WRITTEN_ONCE}' USING ERRCODE = 'integrity_constraint_violation';"
_REFUSE_BAG = f"RAISE EXCEPTION '{SUM_OF_LINES}' USING ERRCODE = 'integrity_constraint_violation';"
_POSTGRES_FUNCTIONS = {
    "ledger_line_refuse": _REFUSE_LINE,
    "ledger_line_keep_bag": f"{_FOLLOW_SUM} RETURN NEW;",
    "bag_left_check": f'IF NEW."left" <> {_SUM} THEN {_REFUSE_BAG} END IF; RETURN NEW;',
}
_POSTGRES = {
    "ledger_line_unchanged": """
        BEFORE UPDATE OR DELETE ON inventory_ledgerline
        FOR EACH ROW EXECUTE FUNCTION ledger_line_refuse()""",
    "ledger_line_keeps_bag": """
        AFTER INSERT ON inventory_ledgerline
        FOR EACH ROW EXECUTE FUNCTION ledger_line_keep_bag()""",
    "bag_left_is_sum": """
        BEFORE INSERT OR UPDATE OF "left" ON inventory_bag
        FOR EACH ROW EXECUTE FUNCTION bag_left_check()""",
}


def guards_install(connection: BaseDatabaseWrapper) -> None:
    with connection.cursor() as cursor:
        for statement in _statements(connection.vendor):
            cursor.execute(statement)


def guards_lift(connection: BaseDatabaseWrapper) -> None:
    """Of SQLite only: for as long as tables are being changed, or emptied between two tests."""
    with connection.cursor() as cursor:
        for name in _SQLITE:
            cursor.execute(f"DROP TRIGGER IF EXISTS {name}")


def guards_missing(connection: BaseDatabaseWrapper) -> list[str]:
    """Names of those that should be there and are not."""
    is_sqlite = connection.vendor == "sqlite"
    wanted = _SQLITE if is_sqlite else _POSTGRES
    listed = (
        "SELECT name FROM sqlite_master WHERE type = 'trigger'"
        if is_sqlite
        else "SELECT tgname FROM pg_trigger WHERE tgenabled <> 'D'"
    )
    with connection.cursor() as cursor:
        cursor.execute(listed)
        there = {name for (name,) in cursor.fetchall()}
    return sorted(set(wanted) - there)


def guards_before_migrate(*, using: str, **kwargs: Any) -> None:
    if connections[using].vendor == "sqlite":
        guards_lift(connections[using])


def guards_after_migrate(*, using: str, **kwargs: Any) -> None:
    connection = connections[using]
    with connection.cursor() as cursor:
        tables = set(connection.introspection.table_names(cursor))
    if {"inventory_bag", "inventory_ledgerline"} <= tables:
        guards_install(connection)


def _statements(vendor: str) -> list[str]:
    if vendor == "sqlite":
        return [f"CREATE TRIGGER IF NOT EXISTS {name} {rest}" for name, rest in _SQLITE.items()]
    functions = [
        f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql"
        f" AS $$ BEGIN {body} END $$"
        for name, body in _POSTGRES_FUNCTIONS.items()
    ]
    return functions + [
        f"CREATE OR REPLACE TRIGGER {name} {rest}" for name, rest in _POSTGRES.items()
    ]
