"""Other processes on the database under test: what threads in one process would hide."""

import os
import subprocess
import sys
from pathlib import Path
from urllib.parse import quote

from django.conf import settings
from django.db import connection

ROOT = Path(__file__).resolve().parent.parent


def environment() -> dict[str, str]:
    """The app's own settings, as in real use, on this very database."""
    return {
        **os.environ,
        "DATABASE_URL": _url(),
        "SECRET_KEY": settings.SECRET_KEY,
        "DJANGO_SETTINGS_MODULE": "decor.settings",
        "PYTHONPATH": str(ROOT),
    }


def python(module: str, *arguments: str, **options: object) -> subprocess.Popen[str]:
    """`main` of a module, with Django set up; a process group of its own, to be killed whole."""
    program = f"import django, sys; django.setup(); import {module} as m; m.main(*sys.argv[1:])"
    return start(sys.executable, "-c", program, *arguments, **options)


def start(*command: str, **options: object) -> subprocess.Popen[str]:
    return subprocess.Popen(
        command, env=environment(), cwd=ROOT, text=True, start_new_session=True, **options
    )


def _url() -> str:
    said = connection.settings_dict
    if connection.vendor == "sqlite":
        return f"sqlite:///{said['NAME']}"
    host = said["HOST"] or "localhost"
    who = quote(said["USER"]) + (f":{quote(said['PASSWORD'])}" if said["PASSWORD"] else "")
    return f"postgres://{who}@{host}:{said['PORT'] or 5432}/{said['NAME']}"
