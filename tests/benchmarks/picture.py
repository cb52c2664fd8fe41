"""The picture of a garland: its time against its number of balloons, and what it covers.

Best of the runs, as whatever else the machine does only ever adds to one.
"""

from collections.abc import Iterator
from math import log
from statistics import median

from quoting.estimator import Estimate, estimate, example_catalogue, spec_from_dict
from quoting.estimator.picture import picture, picture_svg, silhouette
from tests.quoting.estimator.garlands import garland
from tests.quoting.picture.pictured import KINDS, random_pictures

from .timing import milliseconds

# Balloons, runs, goal in ms. Lengths are found for them by proportion.
_SIZES = ((50, 7, None), (150, 7, 500), (600, 5, 3000), (1500, 3, None))
_FIRST_LENGTH_M = 5.0


def figures() -> Iterator[str]:
    colours = {item.colour: item.hex for item in example_catalogue().items}
    measured: list[tuple[int, float]] = []
    for wanted, runs, goal in _SIZES:
        shown = _of_about(wanted)

        def whole(shown: Estimate = shown) -> str:
            return picture_svg(picture(shown), colours=colours)

        count, size = whole().count('class="balloon"'), len(whole()) / 1000
        best, middle = milliseconds(whole, runs=runs)
        measured.append((count, best))
        said = f"; goal under {goal}" if goal else ""
        yield f"{count} balloons: {best:.0f} ms (median {middle:.0f}), {size:.0f} kB{said}"
    yield _growth(measured)
    yield from _coverage()


def _of_about(wanted: int) -> Estimate:
    counted = _line(_FIRST_LENGTH_M)
    balloons = sum(line.need for line in counted.balloons)
    return _line(_FIRST_LENGTH_M * wanted / balloons)


def _line(length_m: float) -> Estimate:
    data = garland(path={"kind": "line", "length_m": length_m}, starbursts=None)
    return estimate(spec_from_dict(data))


def _growth(measured: list[tuple[int, float]]) -> str:
    """Time goes as count to the power that is printed, from the second size to the last."""
    (n, time), (most, longest) = measured[1], measured[-1]
    exponent = log(longest / time) / log(most / n)
    # What n log n itself comes to between the same two counts.
    allowed = log(most * log(most) / (n * log(n))) / log(most / n)
    return f"growth exponent {exponent:.2f}; n log n would be {allowed:.2f}"


def _coverage() -> Iterator[str]:
    """Random garlands of every path: the silhouette over the face, and what others add to it."""
    shown = [(each, silhouette(each.picture)) for each in random_pictures() if each.has_enough]
    yield f"{len(shown)} random garlands, as shares of the face (lowest, middle, highest):"
    for kind in (*KINDS, "all"):
        areas = [s for each, s in shown if kind in (each.estimate.spec.path.kind, "all")]
        ratios = sorted(s.ratio for s in areas)
        yield (
            f"  {kind}: base and accents {_spread(ratios)}; besides, "
            f"minis {_added([s.fillers_add_m2 / s.face_m2 for s in areas])}, "
            f"singles {_added([s.singles_add_m2 / s.face_m2 for s in areas])}, "
            f"starbursts {_added([s.starbursts_add_m2 / s.face_m2 for s in areas])}"
        )


def _spread(shares: list[float]) -> str:
    return f"{shares[0]:.3f} {median(shares):.3f} {shares[-1]:.3f}"


def _added(shares: list[float]) -> str:
    """Where there are any."""
    met = sorted(share for share in shares if share > 0)
    return _spread(met) if met else "none"
