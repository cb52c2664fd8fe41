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


# Beyond so many states only the first way is followed: a day far too full may then seem fuller than
# it is, never emptier. A day that can be done is seen to be so after some tens.
MOST_STATES = 2_000


@dataclass(frozen=True)
class _Doing:
    """What someone has taken on: minutes by day, and the stays (by number) they cannot be at."""

    worker: Worker
    minutes: tuple[tuple[date, int], ...] = ()
    ruled_out: frozenset[int] = frozenset()

    def can(self, at: int, stay: Stay) -> bool:
        worked = dict(self.minutes).get(stay.on, 0)
        return (
            at not in self.ruled_out
            and self.worker.works_on(stay.on)
            and worked + stay.minutes <= self.worker.minutes
        )

    def taking(self, stay: Stay, apart: frozenset[int]) -> "_Doing":
        worked = dict(self.minutes)
        worked[stay.on] = worked.get(stay.on, 0) + stay.minutes
        return _Doing(self.worker, tuple(sorted(worked.items())), self.ruled_out | apart)

    def likeness(self, at: int) -> tuple[object, ...]:
        """Two who are alike make no difference from this stay on."""
        ahead = tuple(sorted(n for n in self.ruled_out if n >= at))
        return (ahead, self.minutes, self.worker.minutes, self.worker.week)


@dataclass(frozen=True)
class _Place:
    """For one person, at the stay of this number; `named` is who it is kept for."""

    at: int
    named: int | None = None


@dataclass
class _Search:
    """`apart` has for each stay those that the same people cannot be at, itself among them."""

    stays: Sequence[Stay]
    places: Sequence[_Place]
    apart: Sequence[frozenset[int]]
    known: dict[object, int] = field(default_factory=dict)

    def empty_from(self, n: int, doing: tuple[_Doing, ...]) -> int:
        """Places that stay empty at best, from this one on."""
        if n == len(self.places):
            return 0
        state = (n, self._likenesses(self.places[n], doing))
        if state not in self.known:
            self.known[state] = self._best(n, doing)
        return self.known[state]

    def _best(self, n: int, doing: tuple[_Doing, ...]) -> int:
        best = None
        for after in self._ways(self.places[n], doing):
            found = self.empty_from(n + 1, after)
            best = found if best is None else min(best, found)
            if not best or len(self.known) >= MOST_STATES:
                return best
        left_empty = 1 + self.empty_from(n + 1, doing)
        return left_empty if best is None else min(best, left_empty)

    def _ways(self, place: _Place, doing: tuple[_Doing, ...]) -> list[tuple[_Doing, ...]]:
        """Each with another person there; of those who are alike, one."""
        stay, ways = self.stays[place.at], {}
        for n, each in enumerate(doing):
            is_meant = place.named in (None, each.worker.pk)
            if is_meant and each.can(place.at, stay):
                taking = each.taking(stay, self.apart[place.at])
                ways[each.likeness(place.at)] = (*doing[:n], taking, *doing[n + 1 :])
        return list(ways.values())

    def _likenesses(self, place: _Place, doing: tuple[_Doing, ...]) -> tuple[object, ...]:
        """While places are kept for someone, it does make a difference who is who."""
        if place.named is not None:
            return tuple(each.likeness(0) for each in doing)
        return tuple(sorted(each.likeness(place.at) for each in doing))


def unstaffed(stays: Sequence[Stay], workers: Sequence[Worker], together: Together) -> int:
    """How many places for a person stay empty at best; 0 where everything can be done."""
    kept = [_Place(n, pk) for n, stay in enumerate(stays) for pk in sorted(stay.named)]
    free = [_Place(n) for n, stay in enumerate(stays) for _ in range(stay.wanted - len(stay.named))]
    apart = [
        frozenset(n for n, b in enumerate(stays) if a is b or not together(a, b)) for a in stays
    ]
    search = _Search(stays, [*kept, *free], apart)
    return search.empty_from(0, tuple(_Doing(worker) for worker in workers))
