"""Whether the people there are can be everywhere they are wanted. Knows no database."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True, kw_only=True)
class Stay:
    """A time at a place. `minutes` is what it takes of each one's day, drives included."""

    key: object
    on: date
    minutes: int
    people: int = 1
    named: frozenset[int] = frozenset()

    @property
    def wanted(self) -> int:
        return max(self.people, len(self.named))


@dataclass(frozen=True, kw_only=True)
class Worker:
    """`minutes` is how long they install in a day; `week` has Monday first, 1 for works."""

    pk: int
    minutes: int
    week: str

    def works_on(self, day: date) -> bool:
        return self.week[day.weekday()] == "1"


# Whether the same people can be at both stays.
Together = Callable[[Stay, Stay], bool]


@dataclass
class _Day:
    """Who is where so far."""

    together: Together
    workers: Sequence[Worker]
    at: dict[int, list[Stay]] = field(default_factory=dict)

    def can(self, worker: Worker, stay: Stay) -> bool:
        theirs = self.at.get(worker.pk, [])
        minutes = sum(other.minutes for other in theirs if other.on == stay.on)
        return (
            worker.works_on(stay.on)
            and minutes + stay.minutes <= worker.minutes
            and all(other is not stay and self.together(other, stay) for other in theirs)
        )


def unstaffed(stays: Sequence[Stay], workers: Sequence[Worker], together: Together) -> int:
    """How many places for a person stay empty at best; 0 where everything can be done."""
    most = sum(stay.wanted for stay in stays)
    return next(empty for empty in range(most + 1) if _fills(stays, workers, together, empty))


def _fills(
    stays: Sequence[Stay], workers: Sequence[Worker], together: Together, empty: int
) -> bool:
    """Those who are named first, as there is no choice; then by day."""
    named = [(stay, pk) for stay in stays for pk in sorted(stay.named)]
    others = [(stay, None) for stay in stays for _ in range(stay.wanted - len(stay.named))]
    return _fill([*named, *others], _Day(together, workers), empty)


def _fill(places: Sequence[tuple[Stay, int | None]], day: _Day, empty: int) -> bool:
    if not places:
        return True
    (stay, named), rest = places[0], places[1:]
    for worker in _choices(day, stay, named):
        day.at.setdefault(worker.pk, []).append(stay)
        if _fill(rest, day, empty):
            return True
        day.at[worker.pk].pop()
    return empty > 0 and _fill(rest, day, empty - 1)


def _choices(day: _Day, stay: Stay, named: int | None) -> list[Worker]:
    """Of those who are as good as each other so far, one: it makes no difference which."""
    found: dict[object, Worker] = {}
    for worker in day.workers:
        if named not in (None, worker.pk) or not day.can(worker, stay):
            continue
        likeness = (worker.minutes, worker.week, tuple(id(s) for s in day.at.get(worker.pk, [])))
        found.setdefault(likeness, worker)
    return list(found.values())
