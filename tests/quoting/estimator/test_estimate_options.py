"""`manage.py estimate` asked for more than the estimate."""

import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from quoting.estimator import estimate, spec_from_dict
from quoting.estimator.explain import explanations

from .garlands import garland
from .test_estimate_command import RESULT_KEYS


@pytest.fixture
def spec_file(tmp_path):
    path = tmp_path / "spec.json"
    path.write_text(json.dumps(garland()))
    return str(path)


def printed(*arguments: str) -> dict:
    out = StringIO()
    call_command("estimate", *arguments, stdout=out)
    return json.loads(out.getvalue())


def refusal(*arguments: str) -> str:
    with pytest.raises(CommandError) as refused:
        call_command("estimate", *arguments, stdout=StringIO())
    assert refused.value.returncode == 2
    assert "\n" not in str(refused.value)
    return str(refused.value)


def test_nothing_is_added_that_was_not_asked_for(spec_file):
    assert printed(spec_file).keys() == RESULT_KEYS


def test_the_range_is_added(spec_file):
    result = printed(spec_file, "--range")
    assert result.keys() == RESULT_KEYS | {"range"}
    body = result["range"]["body"]
    assert body["low"] < body["likely"] == result["count"]["body"] < body["high"]
    assert "4000 chances" in result["range"]["method"]
    assert 0 <= result["range"]["chance_below_minimum_margin"] <= 1


def test_figures_are_explained(spec_file):
    found = printed(spec_file, "--explain", "body", "--explain", "total")["explain"]
    assert [one["key"] for one in found] == ["body", "total"]
    assert found[0]["formula"] == "up((φ × V − t) / v)"
    assert {part["symbol"] for part in found[0]["parts"]} == {"φ", "V", "t", "v"}
    assert all(part["provenance"] for part in found[0]["parts"])


def test_all_figures_are_explained_at_once(spec_file):
    keys = explanations(estimate(spec_from_dict(garland()))).keys()
    assert [one["key"] for one in printed(spec_file, "--explain", "all")["explain"]] == list(keys)


@pytest.mark.parametrize("by", ["width", "length"])
def test_a_budget_is_fitted_and_the_fitted_spec_can_be_estimated_again(spec_file, tmp_path, by):
    result = printed(spec_file, "--fit-budget", "250", "--fit-by", by)
    assert result.keys() == RESULT_KEYS | {"fit"}
    fit = result["fit"]
    assert float(result["price"]["total"]) == float(fit["total"]) <= 250
    assert fit["by"] in fit["said"]
    again = tmp_path / "fitted.json"
    again.write_text(json.dumps(fit["spec"]))
    assert printed(str(again))["price"] == result["price"]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--fit-budget", "1"], "costs at least"),
        (["--fit-budget", "-5"], "an amount such as 450"),
        (["--fit-budget", "1e9"], "an amount such as 450"),
        (["--fit-budget", "४"], "an amount such as 450"),
        (["--fit-budget", ""], "an amount such as 450"),
        (["--fit-budget", "300", "--fit-by", "colour"], "width, length"),
        (["--explain", "weight"], "there is no"),
        (["--explain", "a\nb"], "there is no"),
    ],
)
def test_bad_options_are_refused_in_one_line(spec_file, arguments, words):
    assert words in refusal(spec_file, *arguments)
