"""Spec files to begin a test from, and a strategy that makes any sensible one."""

from itertools import pairwise
from typing import Any

from hypothesis import strategies as st

from quoting.estimator import Spec, SpecError, spec_from_dict

LATEX = ("oat", "fern", "marigold", "tidewater", "plum")


def garland(**changes: Any) -> dict[str, Any]:
    """A full spec of an arch; `changes` replace whole keys, None leaves one out."""
    spec: dict[str, Any] = {
        "version": 1,
        "path": {"kind": "arch", "width_m": 2.4, "height_m": 2.1},
        "width": [[0.0, 0.40], [0.5, 0.70], [1.0, 0.40]],
        "backing": "free",
        "cluster_of": 8,
        "base": [{"colour": "oat", "share": 0.6}, {"colour": "fern", "share": 0.4}],
        "sizes": [
            {"nominal_in": 11, "inflated_in": [6, 10], "share": 0.75},
            {"nominal_in": 17, "inflated_in": [12, 15], "share": 0.25},
        ],
        "fillers": {"minis_per_m2": 1.25, "colours": ["oat"]},
        "singles": {"per_m": 0.6, "colours": ["oat"]},
        "accents": [{"colour": "marigold", "inflated_in": [6, 9], "share": 0.08, "bunch": 4}],
        "starbursts": [{"colour": "copper", "count": 3}],
        "site": {"outdoor": True, "height_m": 2.6, "made_at_c": 21, "site_c": 4, "gust_mps": 9},
        "crew": 1,
        "travel": {"distance_km": 18, "minutes": 25},
        "confidence": 0.95,
        "seed": 1,
    } | changes
    return {key: value for key, value in spec.items() if value is not None}


def plain_garland(**changes: Any) -> dict[str, Any]:
    """A line of one colour and one size, nothing else: the base alone."""
    spec: dict[str, Any] = {
        "version": 1,
        "path": {"kind": "line", "length_m": 3.0},
        "width": [[0, 0.5], [1, 0.5]],
        "base": [{"colour": "oat", "share": 1}],
        "sizes": [{"nominal_in": 11, "inflated_in": [9, 9], "share": 1}],
    }
    return spec | changes


def _metres(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high).map(lambda value: round(value, 3))


_point = st.tuples(_metres(-2, 2), _metres(-2, 2), _metres(0, 3)).map(list)
_paths = st.one_of(
    st.fixed_dictionaries({"kind": st.just("line"), "length_m": _metres(0.5, 12)}),
    st.fixed_dictionaries(
        {
            "kind": st.sampled_from(("arch", "posts")),
            "width_m": _metres(0.5, 5),
            "height_m": _metres(0.3, 4),
        }
    ),
    st.fixed_dictionaries(
        {"kind": st.just("swag"), "span_m": _metres(0.5, 8), "sag_m": _metres(0.02, 3)}
    ),
    st.fixed_dictionaries({"kind": st.just("ring"), "diameter_m": _metres(0.3, 3)}),
    st.fixed_dictionaries(
        {"kind": st.just("drape"), "points_m": st.lists(_point, min_size=2, max_size=6)}
    ),
)


@st.composite
def _widths(draw: st.DrawFn) -> list[list[float]]:
    inner = draw(st.lists(st.integers(1, 99), max_size=3, unique=True))
    ats = [0.0, *(at / 100 for at in sorted(inner)), 1.0]
    return [[at, draw(_metres(0.1, 1.0))] for at in ats]


def _shares(draw: st.DrawFn, count: int) -> list[float]:
    """Hundredths that add up to one."""
    cuts = sorted(draw(st.sets(st.integers(1, 99), min_size=count - 1, max_size=count - 1)))
    ends = [0, *cuts, 100]
    return [(after - before) / 100 for before, after in pairwise(ends)]


def _range(draw: st.DrawFn, low: float, high: float) -> list[float]:
    return sorted([draw(_metres(low, high)), draw(_metres(low, high))])


_colours = st.lists(st.sampled_from(LATEX), min_size=1, max_size=3, unique=True)


@st.composite
def spec_dicts(draw: st.DrawFn) -> dict[str, Any]:
    """Well-formed specs; some are still refused, for too short a path or too many accents."""
    base = draw(st.lists(st.sampled_from(LATEX), min_size=1, max_size=4, unique=True))
    sizes = draw(st.sampled_from(((11,), (17,), (11, 17), (5, 11, 17))))
    accents = draw(st.lists(st.sampled_from(LATEX), max_size=2, unique=True))
    colour_shares = zip(base, _shares(draw, len(base)), strict=True)
    size_shares = zip(sizes, _shares(draw, len(sizes)), strict=True)
    return {
        "version": 1,
        "path": draw(_paths),
        "width": draw(_widths()),
        "backing": draw(st.sampled_from(("free", "flat"))),
        "cluster_of": draw(st.sampled_from((4, 8))),
        "pattern": draw(st.sampled_from(("spread", "banded", "blend"))),
        "base": [{"colour": name, "share": share} for name, share in colour_shares],
        "sizes": [
            {"nominal_in": n, "inflated_in": _range(draw, n * 0.5, n * 0.95), "share": share}
            for n, share in size_shares
        ],
        "accents": [
            {
                "colour": name,
                "share": draw(_metres(0.01, 0.25)),
                "inflated_in": _range(draw, 5, 9),
                "bunch": draw(st.integers(3, 5)),
            }
            for name in accents
        ],
        "starbursts": draw(st.sampled_from(([], [{"colour": "copper", "count": 2}]))),
        "site": {
            "outdoor": draw(st.booleans()),
            "height_m": draw(_metres(0, 4)),
            "made_at_c": draw(_metres(10, 28)),
            "site_c": draw(_metres(-8, 36)),
            "gust_mps": draw(_metres(0, 18)),
            "rain": draw(st.booleans()),
        },
        "crew": draw(st.integers(1, 4)),
        "confidence": draw(st.sampled_from((0.8, 0.95, 0.99))),
        "seed": draw(st.integers(0, 999)),
        **draw(_additions()),
    }


@st.composite
def _additions(draw: st.DrawFn) -> dict[str, Any]:
    offered = {
        "fillers": {"minis_per_m2": draw(_metres(0, 4)), "colours": draw(_colours)},
        "singles": {"per_m": draw(_metres(0, 1.5)), "colours": draw(_colours)},
        "travel": {"distance_km": draw(_metres(0, 80)), "minutes": draw(_metres(0, 90))},
    }
    wanted = draw(st.sets(st.sampled_from(sorted(offered))))
    return {key: offered[key] for key in sorted(wanted)}


def specs() -> st.SearchStrategy[Spec]:
    """Those of `spec_dicts` that are accepted: a random drape can be too short."""
    return spec_dicts().filter(_is_accepted).map(spec_from_dict)


def _is_accepted(data: dict[str, Any]) -> bool:
    try:
        spec_from_dict(data)
    except SpecError:
        return False
    return True
