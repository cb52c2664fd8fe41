import json
import os
import subprocess
import sys
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from jsonschema import Draft202012Validator

from quoting.estimator import (
    Rates,
    catalogue_to_dict,
    example_catalogue,
    rates_to_dict,
)

from .garlands import garland, plain_garland

ROOT = Path(__file__).resolve().parents[3]
# What the result file of version 1 holds, and nothing else.
RESULT_KEYS = {
    "version",
    "path_length_m",
    "face_area_m2",
    "envelope_m3",
    "count",
    "balloons",
    "make",
    "string",
    "sundries",
    "air_m3",
    "packed_m3",
    "labour",
    "person_hours",
    "elapsed_hours",
    "wind",
    "cautions",
    "price",
}


@pytest.fixture
def write(tmp_path):
    def write_file(data, name="spec.json") -> str:
        path = tmp_path / name
        path.write_bytes(data if isinstance(data, bytes) else json.dumps(data).encode())
        return str(path)

    return write_file


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


def run(*arguments: str, given: bytes = b"") -> subprocess.CompletedProcess:
    """As typed in a shell, with no secret and no database in the environment."""
    bare = {k: v for k, v in os.environ.items() if k not in ("SECRET_KEY", "DATABASE_URL")}
    bare["DATABASE_URL"] = "sqlite:////nonexistent/folder/none.sqlite3"
    return subprocess.run(
        [sys.executable, "manage.py", "estimate", *arguments],
        cwd=ROOT,
        input=given,
        capture_output=True,
        check=False,
        env=bare | {"DJANGO_SETTINGS_MODULE": "decor.settings"},
    )


def test_a_spec_file_becomes_a_result_of_version_1(write):
    result = printed(write(garland()))
    assert set(result) == RESULT_KEYS
    assert set(result["balloons"][0]) == {
        "colour",
        "kind",
        "nominal_in",
        "use",
        "need",
        "spare",
        "total",
    }
    assert set(result["string"][0]) == {"at", "what", "colour", "side"}
    assert set(result["wind"]) == {"pressure_pa", "force_n", "anchors"}
    assert set(result["price"]["lines"][0]) == {"label", "amount", "why"}


def test_lines_of_the_result_add_up_to_its_total(write):
    price = printed(write(garland()))["price"]
    cents = sum(round(float(line["amount"]) * 100) for line in price["lines"])
    assert cents == round(float(price["total"]) * 100)


def test_the_schema_is_printed(write):
    schema = printed("--schema")
    Draft202012Validator(schema).validate(garland())


def test_own_rates_and_catalogue_are_used(write):
    rates = write(rates_to_dict(Rates(currency="EUR", tax_bp=0)), "rates.json")
    items = catalogue_to_dict(example_catalogue())
    for item in items["items"]:
        item["bag_cents"] *= 10
    catalogue = write(items, "catalogue.json")
    spec = write(plain_garland())
    plain, own = printed(spec), printed(spec, "--rates", rates, "--catalogue", catalogue)
    assert own["price"]["currency"] == "EUR"
    assert own["price"]["tax"] == "0.00"
    ours, theirs = (float(r["price"]["lines"][0]["amount"]) for r in (plain, own))
    assert theirs == pytest.approx(10 * ours, abs=0.05)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "not valid JSON"),
        (b"{", "line 1 column 2"),
        (b"\xff\xfe{", "not UTF-8 text, at byte 0"),
        (b'{"version": NaN}', "NaN is not a number"),
        (b'{"version": -Infinity}', "-Infinity is not a number"),
        (b'{"version": 1, "version": 1}', 'the key "version" is given twice'),
        (b"[" * 100_000, "nested too deeply"),
        (b'{"seed": ' + b"9" * 10_000 + b"}", "too many digits"),
        (b"[]", "must be an object"),
        (b" " * 2_000_001, "larger than 2 MB"),
        (json.dumps(garland(crew=0)).encode(), "crew: must be a whole number from 1 to 20"),
        (json.dumps(garland(crew=1e999)).encode(), "Infinity is not a number"),
        (
            json.dumps(garland(base=[{"colour": "zinc", "share": 1}])).encode(),
            "base[0].colour: unknown latex colour",
        ),
    ],
)
def test_bad_files_are_refused_in_one_line(write, content, words):
    assert words in refusal(write(content))


def test_a_number_too_large_for_a_float_is_refused(write):
    text = json.dumps(garland()).replace('"crew": 1', '"crew": 1e999')
    assert "crew" in refusal(write(text.encode()))


def test_files_that_cannot_be_read_are_named(tmp_path):
    assert "No such file" in refusal(str(tmp_path / "none.json"))
    assert "cannot be read" in refusal(str(tmp_path))
    assert "not a file name" in refusal("a\0b")
    assert "name a spec file" in refusal()


def test_bad_rates_and_catalogues_are_refused_too(write):
    spec = write(garland())
    assert "margin_bp" in refusal(spec, "--rates", write({"margin_bp": -1}, "rates.json"))
    assert "items" in refusal(spec, "--catalogue", write({"version": 1}, "catalogue.json"))


def test_from_a_shell_it_reads_standard_input_and_needs_no_database():
    done = run("-", given=json.dumps(garland()).encode())
    assert done.returncode == 0, done.stderr
    assert done.stderr == b""
    assert json.loads(done.stdout)["version"] == 1


def test_from_a_shell_bad_input_is_status_2_and_one_line_on_standard_error():
    done = run("-", given=b'{"version": 1}')
    assert done.returncode == 2
    assert done.stdout == b""
    assert done.stderr.count(b"\n") == 1
    assert b"path: is missing" in done.stderr
