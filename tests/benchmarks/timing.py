"""Time something: the best and the middle of several runs, in milliseconds."""

from collections.abc import Callable
from statistics import median
from time import perf_counter


def milliseconds(work: Callable[[], object], *, runs: int) -> tuple[float, float]:
    """Best and median of `runs`, after one that is not counted."""
    work()
    taken = []
    for _ in range(runs):
        start = perf_counter()
        work()
        taken.append((perf_counter() - start) * 1000)
    return min(taken), median(taken)
