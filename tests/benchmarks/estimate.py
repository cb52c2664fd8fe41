"""A whole estimate, from a spec file read to a result written; and what is asked about it."""

from collections.abc import Iterator

from quoting.estimator import estimate, estimate_to_dict, example_catalogue, spec_from_dict
from quoting.estimator.budget import fit_budget
from quoting.estimator.explain import explanations
from quoting.estimator.ranges import range_of
from tests.quoting.estimator.garlands import garland

from .timing import milliseconds

_RUNS = 200
_LENGTHS_M = (5.0, 20.0, 100.0)


def figures() -> Iterator[str]:
    yield _figure("a 2.4 by 2.1 m arch", garland())
    for length in _LENGTHS_M:
        path = {"kind": "line", "length_m": length}
        yield _figure(f"a line of {length:g} m", garland(path=path))
    yield from _asked_about_it()


def _figure(what: str, data: dict) -> str:
    catalogue = example_catalogue()

    def whole() -> dict:
        return estimate_to_dict(estimate(spec_from_dict(data, catalogue=catalogue)))

    balloons = sum(line["need"] for line in whole()["balloons"])
    best, middle = milliseconds(whole, runs=_RUNS)
    return f"{what}, {balloons} balloons: {middle:.2f} ms (best {best:.2f}); goal under 5"


def _asked_about_it() -> Iterator[str]:
    spec = spec_from_dict(garland())
    made = estimate(spec)
    for what, work in (
        ("its range, chance and effects; goal under 30", lambda: range_of(made)),
        ("every figure explained", lambda: explanations(made)),
        ("fitted to a budget", lambda: fit_budget(spec, 25_000)),
    ):
        best, middle = milliseconds(work, runs=_RUNS // 4)
        yield f"{what}: {middle:.2f} ms (best {best:.2f})"
