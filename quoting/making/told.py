"""What a phone tells, read: its fields are checked here, once, and what is wrong is said."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.utils.dateparse import parse_datetime

from inventory.models.ledger import LossReason
from quoting.estimator.rates import PHASES
from quoting.making.keys import step_key
from quoting.models.making import MOST_A_TICK, MOST_PEOPLE

NOT_READ = "This could not be read and was left out."
NO_SUCH_STEP = "There is no such step on a making sheet."
TOO_MANY_AT_ONCE = f"Count at most {MOST_A_TICK} at once."
NO_SUCH_PHASE = "Choose what you work at."
# A phone that was off for longer than this, or whose clock is wrong, is not believed.
OLDEST = timedelta(days=14)


class NotRead(Exception):
    """What was told cannot be; the message says why."""


@dataclass(frozen=True, kw_only=True)
class Counted:
    """`bag` is the one that the sheet named when it was counted."""

    key: UUID
    step: str
    quantity: int
    at: datetime
    bag: int | None = None


@dataclass(frozen=True, kw_only=True)
class Burst:
    key: UUID
    step: str
    reason: str
    at: datetime
    bag: int | None = None


@dataclass(frozen=True, kw_only=True)
class Worked:
    """A clock started, and perhaps stopped. `visit` is the one at whose sheet it ran."""

    key: UUID
    phase: str
    people: int
    started_at: datetime
    stopped_at: datetime | None
    visit: int | None = None


def counted_from(told: Mapping[str, Any], *, now: datetime) -> Counted:
    quantity = _whole(told.get("quantity"))
    if quantity == 0:
        raise NotRead(NOT_READ)
    if abs(quantity) > MOST_A_TICK:
        raise NotRead(TOO_MANY_AT_ONCE)
    return Counted(
        key=key_told(told),
        step=_step(told),
        quantity=quantity,
        at=moment_told(told.get("at"), now),
        bag=_number(told.get("bag")),
    )


def burst_from(told: Mapping[str, Any], *, now: datetime) -> Burst:
    if told.get("reason") not in LossReason.values:
        raise NotRead(NOT_READ)
    return Burst(
        key=key_told(told),
        step=_step(told),
        reason=told["reason"],
        at=moment_told(told.get("at"), now),
        bag=_number(told.get("bag")),
    )


def worked_from(told: Mapping[str, Any], *, now: datetime) -> Worked:
    if told.get("phase") not in PHASES:
        raise NotRead(NO_SUCH_PHASE)
    people = _whole(told.get("people", 1))
    if not 1 <= people <= MOST_PEOPLE:
        raise NotRead(NOT_READ)
    started = moment_told(told.get("started_at"), now)
    stopped = told.get("stopped_at")
    return Worked(
        key=key_told(told),
        phase=told["phase"],
        people=people,
        started_at=started,
        stopped_at=max(started, moment_told(stopped, now)) if stopped else None,
        visit=_number(told.get("visit")),
    )


def key_told(told: Mapping[str, Any]) -> UUID:
    try:
        return UUID(str(told.get("key")))
    except ValueError as error:
        raise NotRead(NOT_READ) from error


def _step(told: Mapping[str, Any]) -> str:
    """As we write it ourselves, so that one step has one name."""
    key = step_key(str(told.get("step", "")))
    if key is None or len(str(key)) > 80:
        raise NotRead(NO_SUCH_STEP)
    return str(key)


def _whole(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int | str):
        raise NotRead(NOT_READ)
    try:
        return int(value)
    except ValueError as error:
        raise NotRead(NOT_READ) from error


def _number(value: Any) -> int | None:
    return None if value in (None, "") else _whole(value)


def moment_told(value: Any, now: datetime) -> datetime:
    """Never after it was received. Without a moment that can be believed: now."""
    try:
        at = parse_datetime(value) if isinstance(value, str) else value
    except ValueError:
        return now
    if not isinstance(at, datetime) or at.tzinfo is None or at < now - OLDEST:
        return now
    return min(at, now)
