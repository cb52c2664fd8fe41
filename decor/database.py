"""The database as measured to be safe: one writer at a time, every commit on disk."""

import sqlite3
from typing import Any

import dj_database_url

# SQLite's write-ahead log could corrupt a file in a rare race until these versions
# (sqlite.org/wal.html, "the WAL-reset bug"), so it is used only from them on.
_WAL_FIXED_IN = (3, 51, 3)
_WAL_FIXED_BRANCHES = ((3, 44, 6), (3, 50, 7))
_LOCK_WAIT_SECONDS = 10


def database_settings(url: str) -> dict[str, Any]:
    settings = dj_database_url.parse(url)
    settings["CONN_MAX_AGE"] = None
    if settings["ENGINE"].endswith("sqlite3"):
        settings["OPTIONS"] = {
            **settings.get("OPTIONS", {}),
            "transaction_mode": "IMMEDIATE",
            "timeout": _LOCK_WAIT_SECONDS,
            "init_command": (
                f"PRAGMA synchronous=FULL; PRAGMA journal_mode={journal_mode()}; "
                "PRAGMA foreign_keys=ON;"
            ),
        }
    return settings


def journal_mode(version: tuple[int, int, int] = sqlite3.sqlite_version_info) -> str:
    in_fixed_branch = any(
        version[:2] == fixed[:2] and version >= fixed for fixed in _WAL_FIXED_BRANCHES
    )
    return "WAL" if version >= _WAL_FIXED_IN or in_fixed_branch else "TRUNCATE"
