"""The database's own watch over the ledger, whoever writes to it: see decor/guards.py.

A line, once written, can be neither changed nor removed. What is left in a bag follows each line
in the same statement, and can be set to nothing but the sum of its lines.
"""

from decor.guards import Guards, postgres_refuse, sqlite_refuse, written_once

SUM_OF_LINES = "what is left in a bag is the sum of its ledger lines"

_LINES = written_once(
    "inventory_ledgerline", row="ledger_line", refusal="a ledger line is written once"
)

# SQLite tells of each line as it is written, so the bag follows line by line.
_FOLLOW_LINE = """
    UPDATE inventory_bag
       SET "left" = "left" + NEW.quantity, is_open = (is_open OR NEW.kind = 'opened')
     WHERE id = NEW.bag_id;
"""
_SUM = "(SELECT COALESCE(SUM(quantity), 0) FROM inventory_ledgerline WHERE bag_id = NEW.id)"

_SQLITE = {
    "ledger_line_keeps_bag": f"""
        AFTER INSERT ON inventory_ledgerline
        BEGIN {_FOLLOW_LINE} END""",
    "bag_begins_empty": f"""
        BEFORE INSERT ON inventory_bag WHEN NEW."left" <> 0
        BEGIN {sqlite_refuse(SUM_OF_LINES)} END""",
    "bag_left_is_sum": f"""
        BEFORE UPDATE OF "left" ON inventory_bag WHEN NEW."left" <> {_SUM}
        BEGIN {sqlite_refuse(SUM_OF_LINES)} END""",
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
_REFUSE_BAG = postgres_refuse(SUM_OF_LINES)
_POSTGRES_FUNCTIONS = {
    "ledger_line_keep_bag": f"{_FOLLOW_SUM} RETURN NEW;",
    "bag_left_check": f'IF NEW."left" <> {_SUM} THEN {_REFUSE_BAG} END IF; RETURN NEW;',
}
_POSTGRES = {
    "ledger_line_keeps_bag": """
        AFTER INSERT ON inventory_ledgerline
        FOR EACH ROW EXECUTE FUNCTION ledger_line_keep_bag()""",
    "bag_left_is_sum": """
        BEFORE INSERT OR UPDATE OF "left" ON inventory_bag
        FOR EACH ROW EXECUTE FUNCTION bag_left_check()""",
}

GUARDS = Guards(
    tables=_LINES.tables | {"inventory_bag"},
    sqlite={**_LINES.sqlite, **_SQLITE},
    postgres_functions={**_LINES.postgres_functions, **_POSTGRES_FUNCTIONS},
    postgres={**_LINES.postgres, **_POSTGRES},
    undeleted=_LINES.undeleted,
)
