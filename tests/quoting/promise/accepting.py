"""Accepting as a client's phone does, and looking at what is promised."""

from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from decor.models import Job
from inventory.free.service import free_on
from inventory.holds.service import hold_soft, holds_open
from quoting.models import ClientAnswer, Edition
from quoting.promise.service import edition_accept
from quoting.quotes.combinations import counted_choice
from tests.factories import JobFactory
from tests.quoting.promise.sending import NOW, TODAY


def accept(edition: Edition, *, now: datetime = NOW, **said: Any) -> ClientAnswer:
    said = {
        "link": None,
        "typed_name": "Imogen Vale",
        "chosen": counted_choice(edition.result),
        "address": "192.0.2.7",
    } | said
    return edition_accept(edition=edition, now=now, **said)


def held(job: Job) -> dict[int, int]:
    return dict(holds_open(job).values_list("item", "quantity"))


def promised(job: Job) -> dict[str, int]:
    """How many rows of each kind stand for the promise."""
    return {
        "holds": len(held(job)),
        "visits": job.visits.filter(called_off_at=None).count(),
        "sessions": job.making_sessions.filter(called_off_at=None).count(),
        "dues": job.dues.filter(replaced_at=None).count(),
    }


NEW_YORK = ZoneInfo("America/New_York")
MAKING = date(2026, 6, 19)
NOTHING = {"holds": 0, "visits": 0, "sessions": 0, "dues": 0}


def empty_shelf() -> None:
    """All that was free is promised to somebody else."""
    free = free_on(on=MAKING, today=TODAY, items=None)
    hold_soft(
        job=JobFactory(title="Regatta arch", stage="promised"),
        demand={pk: found.promisable for pk, found in free.items()},
        needed_on=MAKING,
        today=TODAY,
        now=NOW,
    )
