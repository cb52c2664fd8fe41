"""Other processes on the database under test: what threads in one process would hide."""

import os
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO
from urllib.parse import quote

from django.conf import settings
from django.db import connection

ROOT = Path(__file__).resolve().parent.parent
# One process imports the app, which takes longer than a race, and every racer is a fork of it.
FORKS = """
import importlib, os, sys, traceback
import django
django.setup()
racer = importlib.import_module(sys.argv[1])
for argument, told, said in zip(sys.argv[2::3], sys.argv[3::3], sys.argv[4::3]):
    if os.fork() == 0:
        os.dup2(int(told), 0)
        os.dup2(int(said), 1)
        os.closerange(3, 1024)
        try:
            racer.main(argument)
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(0)
os.closerange(3, 1024)
for _ in sys.argv[2::3]:
    os.wait()
"""


class Racer:
    """A process that answers in a line to every line that it is told."""

    def __init__(self, argument: str) -> None:
        self.argument = argument
        self.its_ears, telling = os.pipe()
        hearing, self.its_mouth = os.pipe()
        self.telling: IO[str] = os.fdopen(telling, "w")
        self.hearing: IO[str] = os.fdopen(hearing)

    def say(self, line: str) -> None:
        self.telling.write(f"{line}\n")
        self.telling.flush()

    def hear(self) -> str:
        return self.hearing.readline().strip()


@contextmanager
def racers(module: str, *arguments: str) -> Iterator[list[Racer]]:
    """One for each argument, in `main` of a module, when all have said that they are ready."""
    each = [Racer(argument) for argument in arguments]
    ends = [end for racer in each for end in (racer.its_ears, racer.its_mouth)]
    said = [str(s) for racer in each for s in (racer.argument, racer.its_ears, racer.its_mouth)]
    forking = start(sys.executable, "-c", FORKS, module, *said, pass_fds=ends)
    for end in ends:
        os.close(end)
    try:
        assert {racer.hear() for racer in each} == {"ready"}
        yield each
    finally:
        for racer in each:
            racer.telling.close()
            racer.hearing.close()
        forking.wait(timeout=30)


def race(racers: list[Racer], lines: list[str]) -> Counter[str]:
    """What they answer, each told its line before any answer is waited for."""
    for racer, line in zip(racers, lines, strict=True):
        racer.say(line)
    return Counter(racer.hear() for racer in racers)


def start(*command: str, **options: object) -> subprocess.Popen[str]:
    """In a process group of its own, to be killed whole."""
    return subprocess.Popen(
        command, env=environment(), cwd=ROOT, text=True, start_new_session=True, **options
    )


def environment() -> dict[str, str]:
    """The app's own settings, as in real use, on this very database."""
    return {
        **os.environ,
        "DATABASE_URL": _url(),
        "SECRET_KEY": settings.SECRET_KEY,
        "DJANGO_SETTINGS_MODULE": "decor.settings",
        "PYTHONPATH": str(ROOT),
    }


def _url() -> str:
    said = connection.settings_dict
    if connection.vendor == "sqlite":
        return f"sqlite:///{said['NAME']}"
    host = quote(said["HOST"] or "localhost", safe="")  # or the folder of a socket
    who = quote(said["USER"]) + (f":{quote(said['PASSWORD'])}" if said["PASSWORD"] else "")
    return f"postgres://{who}@{host}:{said['PORT'] or 5432}/{said['NAME']}"
