"""Run every benchmark, or those named: each is a module here with a `figures()` function.

`figures` yields lines to print. A module that Django must be set up for does it itself.
"""

import sys
from importlib import import_module
from pkgutil import iter_modules

from tests import benchmarks

_NOT_BENCHMARKS = {"__main__", "database", "timing"}


def names() -> list[str]:
    return sorted(
        m.name for m in iter_modules(benchmarks.__path__) if m.name not in _NOT_BENCHMARKS
    )


def main(wanted: list[str]) -> int:
    unknown = sorted(set(wanted) - set(names()))
    if unknown:
        print(f"unknown: {', '.join(unknown)}; there are {', '.join(names())}", file=sys.stderr)
        return 2
    for name in wanted or names():
        print(f"{name}:")
        for line in import_module(f"tests.benchmarks.{name}").figures():
            print(f"  {line}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
