"""Steps of work into days: as much as there is room for, then as late as it goes.

Work can be cut anywhere between two steps, so this is a transportation problem from jobs to
days, and the two questions are linear programs whose corners are whole numbers (its matrix is
totally unimodular): no cleverer order of the same hours makes more, or fresher balloons.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog
from scipy.sparse import csr_array

Numbers = NDArray[np.float64]


@dataclass(frozen=True)
class Way:
    """Steps of one job (by its place in the order of installs) that could be made on a day:
    `most` of them, of which `before` were planned there already."""

    job: int
    on: date
    age: int
    most: int
    before: int = 0


@dataclass(frozen=True)
class Room:
    """In steps: what each job needs, in the order of installs, and what each day has free."""

    needs: tuple[int, ...]
    free: Mapping[date, int]
    ways: tuple[Way, ...]


def most_made(room: Room) -> list[int]:
    """Steps of each job that find a place: the most in all, and where not all do, the sooner
    installed is the one made whole.

    What can be made together is a polymatroid, so that any positive weights that fall in this
    order give the greedy answer: it loses nothing in all by being in order.
    """
    if not room.ways:
        return [0] * len(room.needs)
    count = len(room.needs)
    weights = np.array([2 - way.job / count for way in room.ways])
    x = _solve(room, -weights, [way.most for way in room.ways], room.needs, exact=False)
    made = [0] * count
    for way, steps in zip(room.ways, x, strict=True):
        made[way.job] += steps
    return made


def latest(room: Room, made: Sequence[int]) -> list[int]:
    """Steps on each way, the balloons as fresh as can be in all: the fewest steps times days.

    Among plans as fresh as each other the one that keeps most of what was planned before; all of
    its steps together weigh less than one step moved by one day.
    """
    if not room.ways:
        return []
    keep = 1 / (sum(made) + 1)
    kept = [min(way.before, way.most) for way in room.ways]
    ages = np.array([float(way.age) for way in room.ways])
    doubled = Room(room.needs, room.free, room.ways * 2)
    most = [*kept, *(way.most - k for way, k in zip(room.ways, kept, strict=True))]
    x = _solve(doubled, np.concatenate([ages - keep, ages]), most, made, exact=True)
    return [x[at] + x[at + len(kept)] for at in range(len(kept))]


def _solve(
    room: Room, costs: Numbers, most: Sequence[int], by_job: Sequence[int], *, exact: bool
) -> list[int]:
    """At least cost: of each job `by_job` steps (or no more), on no day more than are free. By the
    simplex method, as only corners are whole."""
    days = list(room.free)
    of_jobs = _sums([way.job for way in room.ways], len(by_job))
    of_days = _sums([days.index(way.on) for way in room.ways], len(days))
    limits = {"A_ub": of_days, "b_ub": list(room.free.values())}
    if exact:
        limits |= {"A_eq": of_jobs, "b_eq": list(by_job)}
    else:
        limits = {
            "A_ub": csr_array(np.vstack([of_days.toarray(), of_jobs.toarray()])),
            "b_ub": [*room.free.values(), *by_job],
        }
    bounds = [(0, limit) for limit in most]
    found = linprog(costs, bounds=bounds, method="highs-ds", **limits)
    if not found.success:
        raise RuntimeError(f"no plan came out: {found.message}")
    return [round(steps) for steps in found.x]


def _sums(rows: Sequence[int], count: int) -> csr_array:
    ones = np.ones(len(rows))
    return csr_array((ones, (rows, range(len(rows)))), shape=(count, len(rows)))
