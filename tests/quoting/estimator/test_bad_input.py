"""Everything that must be refused, where the message stands, and what it says."""

from math import inf, nan
from typing import Any

import pytest

from quoting.estimator import SpecError, estimate, example_catalogue, spec_from_dict

from .garlands import garland


def problems(data: Any) -> dict[str, str]:
    with pytest.raises(SpecError) as refused:
        spec_from_dict(data, catalogue=example_catalogue())
    assert "\n" not in str(refused.value)
    return {problem.key: problem.message for problem in refused.value.problems}


def sized(inflated: Any, nominal: Any = 11) -> dict[str, Any]:
    return {"sizes": [{"nominal_in": nominal, "inflated_in": inflated, "share": 1}]}


def wide(*stations: Any) -> dict[str, Any]:
    return {"width": list(stations)}


def line(length: Any) -> dict[str, Any]:
    return {"path": {"kind": "line", "length_m": length}}


BAD = [
    # zero, negative, absurd
    (line(0), "path.length_m", "from 0.01 to 100 m"),
    (line(-2), "path.length_m", "from 0.01 to 100 m"),
    (line(4000), "path.length_m", "from 0.01 to 100 m, not 4000"),
    (line(0.2), "path", "0.3 to 100 m long"),
    ({"path": {"kind": "posts", "width_m": 50, "height_m": 50}}, "path", "150 m"),
    (wide([0, 0.002], [1, 0.5]), "width[0][1]", "from 0.1 to 3 m, not 0.002"),
    (wide([0, 0.5], [1, -1]), "width[1][1]", "from 0.1 to 3 m"),
    ({"crew": 0}, "crew", "whole number from 1 to 20"),
    ({"crew": 1.5}, "crew", "whole number"),
    ({"confidence": 1}, "confidence", "0.5 to 0.999"),
    ({"starbursts": [{"colour": "copper", "count": 0}]}, "starbursts[0].count", "1 to 200"),
    ({"site": {"gust_mps": 400}}, "site.gust_mps", "0 to 60 m/s"),
    # not numbers at all
    (line(nan), "path.length_m", "a number"),
    (line(inf), "path.length_m", "a number"),
    (line(True), "path.length_m", "not true"),
    (line("3"), "path.length_m", 'not "3"'),
    (line(None), "path.length_m", "not null"),
    (line([3]), "path.length_m", "not a list"),
    ({"crew": True}, "crew", "not true"),
    ({"cluster_of": True}, "cluster_of", "4 or 8"),
    ({"seed": nan}, "seed", "whole number"),
    ({"site": {"outdoor": 1}}, "site.outdoor", "true or false"),
    # huge whole numbers, within and beyond what can be printed
    (line(10**30), "path.length_m", "a number"),
    (line(10**400), "path.length_m", "too many digits"),
    ({"seed": 10**6000}, "seed", "too many digits"),
    # missing and unknown
    ({"path": None}, "path", "is missing"),
    ({"path": {}}, "path.kind", "line or arch or posts"),
    ({"path": {"kind": "spiral"}}, "path.kind", 'not "spiral"'),
    ({"path": {"kind": ["line"]}}, "path.kind", "not a list"),
    ({"path": {"kind": "arch", "width_m": 2}}, "path.height_m", "is missing"),
    ({"path": {"kind": "line", "length_m": 2, "sag_m": 1}}, "path.sag_m", "unknown key"),
    ({"colours": []}, "colours", "unknown key; the keys allowed here are version"),
    ({"version": 2}, "version", "must be 1"),
    ({"backing": "wall"}, "backing", "free or flat"),
    ({"pattern": "stripes"}, "pattern", "spread or banded or blend"),
    ({"fillers": {}}, "fillers.colours", "is missing"),
    ({"accents": [{"colour": "oat"}]}, "accents[0].share", "is missing"),
    # shares
    ({"base": []}, "base", "a list of 1 to 12 entries, not 0 entries"),
    ({"base": [{"colour": "oat", "share": 0.9}]}, "base", "add up to 1"),
    ({"base": [{"colour": "oat", "share": 1.2}]}, "base[0].share", "0.001 to 1"),
    ({"base": [{"colour": "oat", "share": 0.5}] * 2}, "base[1].colour", "given twice"),
    ({"sizes": [{"nominal_in": 11, "inflated_in": [6, 9], "share": 0.5}]}, "sizes", "add up to 1"),
    # inflation
    (sized([6, 12]), "sizes[0].inflated_in", "cannot be inflated above 11 in"),
    (sized([3, 9]), "sizes[0].inflated_in", "at least 3.67 in"),
    (sized([9, 6]), "sizes[0].inflated_in", "smaller diameter comes first"),
    (sized([9]), "sizes[0].inflated_in", "[smallest, largest]"),
    (sized(9), "sizes[0].inflated_in", "[smallest, largest]"),
    (sized([6, "9"]), "sizes[0].inflated_in[1]", "a number"),
    (
        {"accents": [{"colour": "oat", "share": 0.1, "inflated_in": [6, 12]}]},
        "accents[0].inflated_in",
        "above 11 in",
    ),
    (
        {"accents": [{"colour": "oat", "share": 0.1, "bunch": 1}]},
        "accents[0].bunch",
        "whole number from 3 to 5",
    ),
    # widths along the path
    (wide([0, 0.5]), "width", "a list of 2 to 200 entries"),
    (wide([0.1, 0.5], [1, 0.5]), "width[0][0]", "must be at 0"),
    (wide([0, 0.5], [0.9, 0.5]), "width[1][0]", "must be at 1"),
    (wide([0, 0.5], [0.6, 1], [0.4, 1], [1, 1]), "width[2][0]", "further along"),
    (wide([0, 0.5, 1], [1, 0.5]), "width[0]", "width in metres"),
    ({"width": 0.5}, "width", "not 0.5"),
    # colours
    (
        {"base": [{"colour": "zinc", "share": 1}]},
        "base[0].colour",
        "the catalogue has copper, fern, marigold",
    ),
    ({"base": [{"colour": "", "share": 1}]}, "base[0].colour", "text of 1 to 60"),
    ({"base": [{"colour": 3, "share": 1}]}, "base[0].colour", "text"),
    (sized([6, 9], 12), "base[0].colour", "at 5, 11, 17, 24 in, not 12 in"),
    ({"starbursts": [{"colour": "oat", "count": 1}]}, "starbursts[0].colour", "has copper"),
    ({"singles": {"colours": ["zinc"]}}, "singles.colours[0]", "unknown latex colour"),
    ({"singles": {"colours": ["oat", "oat"]}}, "singles.colours[1]", "given twice"),
]


@pytest.mark.parametrize(("changes", "key", "words"), BAD)
def test_bad_input_is_refused_at_its_key_in_plain_words(changes, key, words):
    found = problems(garland(**changes))
    assert words in found[key]


@pytest.mark.parametrize("data", [None, [], 3, "spec", True, nan])
def test_a_spec_must_be_an_object(data):
    assert "must be an object" in problems(data)[""]


def test_a_key_with_a_line_break_still_makes_one_line():
    (key,) = problems(garland(**{"bad\nkey" + "x" * 500: 1}))
    assert len(key) <= 40


@pytest.mark.parametrize("name", ["\ud800", "a\x00b", "‮x"])
def test_strange_text_is_shown_escaped(name):
    found = problems(garland(base=[{"colour": name, "share": 1}]))
    assert found["base[0].colour"].isascii()


def test_a_deep_nest_is_refused_like_anything_else():
    deep: Any = []
    for _ in range(5000):
        deep = [deep]
    assert "not a list" in problems(garland(crew=deep))["crew"]


def test_a_bad_list_is_refused_without_a_message_for_each_of_a_million_entries():
    assert list(problems(garland(accents=[0] * 1_000_000))) == ["accents"]


def test_a_spec_read_on_trust_is_checked_when_it_is_estimated():
    spec = spec_from_dict(garland(base=[{"colour": "zinc", "share": 1}]))
    with pytest.raises(SpecError, match="unknown latex colour"):
        estimate(spec)
