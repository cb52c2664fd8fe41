"""A whole estimate, from a spec file's text read to a result that can be written."""

from collections.abc import Iterator

from quoting.estimator import estimate, estimate_to_dict, example_catalogue, spec_from_dict
from tests.quoting.estimator.garlands import garland

from .timing import milliseconds

_RUNS = 200
_LENGTHS_M = (5.0, 20.0, 100.0)


def figures() -> Iterator[str]:
    yield _figure("a 2.4 by 2.1 m arch", garland())
    for length in _LENGTHS_M:
        path = {"kind": "line", "length_m": length}
        yield _figure(f"a line of {length:g} m", garland(path=path))


def _figure(what: str, data: dict) -> str:
    catalogue = example_catalogue()

    def whole() -> dict:
        return estimate_to_dict(estimate(spec_from_dict(data, catalogue=catalogue)))

    balloons = sum(line["need"] for line in whole()["balloons"])
    best, middle = milliseconds(whole, runs=_RUNS)
    return f"{what}, {balloons} balloons: {middle:.2f} ms (best {best:.2f}); goal under 5"
