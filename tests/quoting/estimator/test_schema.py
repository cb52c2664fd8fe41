"""The printed JSON Schema and the parser say the same."""

from copy import deepcopy
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from quoting.estimator import SPEC_SCHEMA, SpecError, spec_from_dict

from .garlands import garland, plain_garland, spec_dicts

VALIDATOR = Draft202012Validator(SPEC_SCHEMA)
junk = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**20), 10**20),
    st.floats(allow_nan=False, allow_infinity=False),
    st.sampled_from((0, 1, 4, 8.0, 1.0, 0.1, 3, 100, -0.0)),
    st.text(max_size=70),
    st.lists(st.integers(0, 5), max_size=4),
    st.dictionaries(st.text(max_size=5), st.integers(), max_size=2),
)


def structural_problems(data: Any) -> list[str]:
    """Those of one value alone; sums, orders and lengths are beyond a schema."""
    try:
        spec_from_dict(data)
    except SpecError as refused:
        messages = [problem.message for problem in refused.problems]
        return [
            message
            for message in messages
            if (message.startswith("must be") and ", not " in message)
            or message.startswith(("is missing", "unknown key"))
        ]
    return []


def test_the_schema_is_a_schema():
    Draft202012Validator.check_schema(SPEC_SCHEMA)


@pytest.mark.parametrize("data", [garland(), plain_garland()])
def test_the_examples_fit_the_schema(data):
    VALIDATOR.validate(data)


@given(spec_dicts())
@settings(max_examples=60)
def test_whatever_the_parser_takes_fits_the_schema(data):
    VALIDATOR.validate(data)


def _places(value: Any, path: tuple = ()) -> list[tuple]:
    inner = value.items() if isinstance(value, dict) else enumerate(value)
    found = []
    for key, child in inner:
        found.append((*path, key))
        if isinstance(child, dict | list):
            found.extend(_places(child, (*path, key)))
    return found


@given(st.data())
@settings(max_examples=400)
def test_one_changed_value_is_refused_by_both_or_by_neither(choose):
    data = deepcopy(garland())
    *parents, last = choose.draw(st.sampled_from(_places(data)))
    holder = data
    for key in parents:
        holder = holder[key]
    match choose.draw(st.sampled_from(("change", "drop", "add"))):
        case "change":
            holder[last] = choose.draw(junk)
        case "drop":
            del holder[last]
        case "add" if isinstance(holder, dict):
            holder[choose.draw(st.text(max_size=8))] = choose.draw(junk)
        case _:
            holder.append(choose.draw(junk))
    assert VALIDATOR.is_valid(data) == (not structural_problems(data))
