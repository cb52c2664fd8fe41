"""What is looked at before leaving a place. Common practice, no source."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from django.contrib.auth.models import User
from django.db import IntegrityError, transaction

from decor.models import Visit
from decor.models.visit import VisitKind
from quoting.models import CheckMark


@dataclass(frozen=True)
class Check:
    key: str
    text: str


_HUNG: Final = (
    Check("seen-from-guests", "Look at it from where the guests will stand."),
    Check("top-not-drooping", "The top does not droop."),
    Check("bottom-filled", "No empty spot at the bottom: fill it."),
    Check("held-all-sides", "It is held from every side, the bottom from two at least."),
    Check("cleared-up", "Every scrap of burst balloon is picked up; nothing is left to choke on."),
    Check("photo-taken", "Take a photo before you leave."),
)
_STRUCK: Final = (
    Check("all-down", "Everything is down: balloons, ties and tape."),
    Check("burst-not-released", "Every balloon is burst and bagged; none flies off."),
    Check("place-as-found", "The place is as you found it; take a photo."),
    Check("kit-counted", "Stands, frames and ladder are back in the car, counted."),
)
CHECKS: Final = {
    VisitKind.INSTALL: _HUNG,
    VisitKind.REVISIT: _HUNG,
    VisitKind.STRIKE: _STRUCK,
}


class NoSuchCheck(Exception):
    """The visit's list has no such line."""


@dataclass(frozen=True)
class CheckLine:
    check: Check
    mark: CheckMark | None


def checklist(visit: Visit) -> tuple[CheckLine, ...]:
    marks = {mark.key: mark for mark in visit.check_marks.select_related("by")}
    return tuple(CheckLine(check, marks.get(check.key)) for check in CHECKS[visit.kind])


def check_set(*, visit: Visit, key: str, is_done: bool, by: User | None, now: datetime) -> None:
    """Marking twice, or taking away what is not marked, changes nothing. Raises NoSuchCheck."""
    if key not in {check.key for check in CHECKS[visit.kind]}:
        raise NoSuchCheck(key)
    if not is_done:
        CheckMark.objects.filter(visit=visit, key=key).delete()
        return
    try:
        with transaction.atomic():
            CheckMark.objects.create(visit=visit, key=key, by=by, at=now)
    except IntegrityError:
        return
