"""A database of the benchmark's own, gone afterwards."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory


@contextmanager
def own_database() -> Iterator[None]:
    """On SQLite a file with the app's own settings. Django must be set up."""
    from django.db import connection

    usual = connection.settings_dict["NAME"]
    with TemporaryDirectory() as folder:
        if connection.vendor == "sqlite":
            connection.settings_dict["TEST"]["NAME"] = str(Path(folder) / "benchmark.sqlite3")
        connection.creation.create_test_db(verbosity=0)
        try:
            yield
        finally:
            connection.creation.destroy_test_db(usual, verbosity=0)
