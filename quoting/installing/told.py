"""What a phone tells from a place: lines of the checklist, each with a key of its own."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from decor.models import Visit
from inventory.ledger.service import By
from quoting.installing.checklist import NoSuchCheck, check_set
from quoting.making.ticks import Refused
from quoting.making.told import NotRead, key_told, moment_told

NOT_ON_LIST = "That line is not on this list."


@dataclass(frozen=True, kw_only=True)
class ChecksTaken:
    """`taken` are the keys that need not be sent again."""

    taken: tuple[str, ...]
    refused: tuple[Refused, ...]


@transaction.atomic
def checks_take(*, visit: Visit, told: Iterable[Any], by: By, now: datetime) -> ChecksTaken:
    """In the order in which they were pressed, whatever order they come in: the last press of a
    line says how it stands, so that sending all of it again changes nothing."""
    taken, refused = [], []
    presses = [each for each in told if isinstance(each, Mapping)]
    for each in sorted(presses, key=lambda each: moment_told(each.get("at"), now)):
        try:
            key = str(key_told(each))
            check_set(
                visit=visit,
                key=str(each.get("check", "")),
                is_done=each.get("done") is True,
                by=by,
                now=moment_told(each.get("at"), now),
            )
        except (NotRead, NoSuchCheck):
            refused.append(Refused(key=str(each.get("key", "")), why=NOT_ON_LIST))
        else:
            taken.append(key)
    return ChecksTaken(taken=tuple(taken), refused=tuple(refused))
