"""Triggers by which the database itself watches over a table, whoever writes to it.

They are put in place after every `migrate`. On SQLite they are also lifted before it, as it
rebuilds a table to change it: that would drop the table's own triggers and fail over those that
mention it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.apps import AppConfig
from django.db import connections
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.models.signals import post_migrate, pre_migrate


@dataclass(frozen=True, kw_only=True)
class Guards:
    """Triggers by name, each as what follows its name; of PostgreSQL with bodies of functions.

    `undeleted` is the one that refuses a deletion on SQLite.
    """

    tables: frozenset[str]
    sqlite: Mapping[str, str]
    postgres_functions: Mapping[str, str]
    postgres: Mapping[str, str]
    undeleted: str

    def connect(self, app: AppConfig) -> None:
        pre_migrate.connect(self.before_migrate, sender=app)
        post_migrate.connect(self.after_migrate, sender=app)

    def install(self, connection: BaseDatabaseWrapper) -> None:
        with connection.cursor() as cursor:
            for statement in self._statements(connection.vendor):
                cursor.execute(statement)

    def lift(self, connection: BaseDatabaseWrapper) -> None:
        """Of SQLite only: for as long as tables are being changed."""
        with connection.cursor() as cursor:
            for name in self.sqlite:
                cursor.execute(f"DROP TRIGGER IF EXISTS {name}")

    def missing(self, connection: BaseDatabaseWrapper) -> list[str]:
        """Names of those that should be there and are not."""
        is_sqlite = connection.vendor == "sqlite"
        listed = (
            "SELECT name FROM sqlite_master WHERE type = 'trigger'"
            if is_sqlite
            else "SELECT tgname FROM pg_trigger WHERE tgenabled <> 'D'"
        )
        with connection.cursor() as cursor:
            cursor.execute(listed)
            there = {name for (name,) in cursor.fetchall()}
        return sorted(set(self.sqlite if is_sqlite else self.postgres) - there)

    def before_migrate(self, *, using: str, **kwargs: Any) -> None:
        if connections[using].vendor == "sqlite":
            self.lift(connections[using])

    def after_migrate(self, *, using: str, **kwargs: Any) -> None:
        connection = connections[using]
        with connection.cursor() as cursor:
            there = set(connection.introspection.table_names(cursor))
        if self.tables <= there:
            self.install(connection)

    def _statements(self, vendor: str) -> list[str]:
        if vendor == "sqlite":
            return [
                f"CREATE TRIGGER IF NOT EXISTS {name} {rest}" for name, rest in self.sqlite.items()
            ]
        functions = [
            f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql"
            f" AS $$ BEGIN {body} END $$"
            for name, body in self.postgres_functions.items()
        ]
        return functions + [
            f"CREATE OR REPLACE TRIGGER {name} {rest}" for name, rest in self.postgres.items()
        ]


def written_once(table: str, *, row: str, refusal: str) -> Guards:
    """A row of it, once written, can be neither changed nor removed. `row` begins each name."""
    unchanged, undeleted, refuse = f"{row}_unchanged", f"{row}_undeleted", f"{row}_refuse"
    return Guards(
        tables=frozenset({table}),
        sqlite={
            unchanged: f"BEFORE UPDATE ON {table} BEGIN {sqlite_refuse(refusal)} END",
            undeleted: f"BEFORE DELETE ON {table} BEGIN {sqlite_refuse(refusal)} END",
        },
        postgres_functions={refuse: postgres_refuse(refusal)},
        postgres={
            unchanged: f"BEFORE UPDATE OR DELETE ON {table}"
            f" FOR EACH ROW EXECUTE FUNCTION {refuse}()"
        },
        undeleted=undeleted,
    )


def sqlite_refuse(refusal: str) -> str:
    return f"SELECT RAISE(ABORT, '{refusal}');"


def postgres_refuse(refusal: str) -> str:
    """Both databases then raise Django's IntegrityError."""
    return f"RAISE EXCEPTION '{refusal}' USING ERRCODE = 'integrity_constraint_violation';"
