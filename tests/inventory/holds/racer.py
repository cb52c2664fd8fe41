"""One client of the race, as a process of its own: told by its standard input how to
go for which two items, it answers in a line what came of it."""

import sys
import traceback
from datetime import UTC, date, datetime

from django.db import connection

from decor.models import Job
from inventory.free.service import free_on
from inventory.holds.service import ShelfShort, hold_soft
from inventory.models import Hold

NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)
TODAY, MAKING = date(2026, 6, 13), date(2026, 6, 19)
WANTED = 50


def with_locks(job: Job, items: list[int]) -> str:
    try:
        hold_soft(
            job=job,
            demand=dict.fromkeys(items, WANTED),
            needed_on=MAKING,
            today=TODAY,
            now=NOW,
        )
    except ShelfShort as short:
        return str(short)
    return "held"


def without_locks(job: Job, items: list[int]) -> str:
    """Look, then write: right for one client alone."""
    free = free_on(on=MAKING, today=TODAY, items=items)
    if any(free[item].promisable < WANTED for item in items):
        return "Not enough is free."
    for item in items:
        Hold.objects.create(job=job, item_id=item, quantity=WANTED, needed_on=MAKING, placed_at=NOW)
    return "held"


WAYS = {"with-locks": with_locks, "without-locks": without_locks}


def main(job_pk: str) -> None:
    job = Job.objects.get(pk=int(job_pk))
    connection.ensure_connection()
    print("ready", flush=True)  # noqa: T201
    for line in sys.stdin:
        how, *items = line.split()
        try:
            answer = WAYS[how](job, [int(item) for item in items])
        except Exception:
            answer = "EXCEPTION " + traceback.format_exc().replace("\n", " | ")
        print(answer, flush=True)  # noqa: T201
