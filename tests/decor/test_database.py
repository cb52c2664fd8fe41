import pytest
from django.db import connection

from decor.database import database_settings, journal_mode


@pytest.mark.parametrize(
    ("version", "mode"),
    [
        ((3, 40, 1), "TRUNCATE"),
        ((3, 44, 5), "TRUNCATE"),
        ((3, 44, 6), "WAL"),
        ((3, 45, 0), "TRUNCATE"),
        ((3, 50, 6), "TRUNCATE"),
        ((3, 50, 7), "WAL"),
        ((3, 51, 2), "TRUNCATE"),
        ((3, 51, 3), "WAL"),
        ((3, 52, 0), "WAL"),
    ],
)
def test_the_write_ahead_log_is_used_only_where_sqlite_is_fixed(version, mode):
    assert journal_mode(version) == mode


def test_a_postgresql_address_gets_no_sqlite_options():
    settings = database_settings("postgres://nell@127.0.0.1/garlands")
    assert settings["ENGINE"] == "django.db.backends.postgresql"
    assert "init_command" not in settings.get("OPTIONS", {})


@pytest.mark.django_db
def test_a_live_connection_has_the_promised_settings():
    if connection.vendor == "postgresql":
        assert connection.settings_dict["ENGINE"].endswith("postgresql")
        return
    with connection.cursor() as cursor:
        synchronous = cursor.execute("PRAGMA synchronous").fetchone()[0]
        foreign_keys = cursor.execute("PRAGMA foreign_keys").fetchone()[0]
    assert (synchronous, foreign_keys) == (2, 1)
    assert connection.transaction_mode == "IMMEDIATE"


def test_a_sqlite_file_opens_as_promised(tmp_path):
    import sqlite3

    settings = database_settings(f"sqlite:///{tmp_path / 'own.sqlite3'}")
    live = sqlite3.connect(settings["NAME"])
    live.executescript(settings["OPTIONS"]["init_command"])
    mode = live.execute("PRAGMA journal_mode").fetchone()[0]
    live.close()
    assert mode.upper() == journal_mode()
