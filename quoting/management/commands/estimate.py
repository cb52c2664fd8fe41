"""`manage.py estimate FILE|-`: a spec file in, its estimate out, both as JSON; no database."""

import json
import sys
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandError, CommandParser

from quoting.estimator import (
    SPEC_SCHEMA,
    BadInput,
    catalogue_from_dict,
    estimate,
    estimate_to_dict,
    example_catalogue,
    example_rates,
    rates_from_dict,
    spec_from_dict,
)

_MOST_BYTES = 2_000_000
_MOST_DIGITS = 400


class Refused(CommandError):
    """Printed as one line beginning with this name; the exit status is 2."""


class Command(BaseCommand):
    help = "Estimate a garland from its spec file (JSON) and print the result as JSON."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", nargs="?", help="the spec file, or - for standard input")
        parser.add_argument("--catalogue", help="JSON of items and bags; default: a built-in one")
        parser.add_argument("--rates", help="JSON of rates; default: a built-in example")
        parser.add_argument(
            "--schema", action="store_true", help="print the JSON Schema of the spec file"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        if options["schema"]:
            self._print(SPEC_SCHEMA)
            return
        if not options["file"]:
            _refuse("name a spec file, or - for standard input")
        self._print(_estimate(options["file"], options["catalogue"], options["rates"]))

    def _print(self, result: dict[str, Any]) -> None:
        self.stdout.write(json.dumps(result, indent=2, allow_nan=False))


def _estimate(spec_file: str, catalogue_file: str | None, rates_file: str | None) -> dict[str, Any]:
    catalogue, rates = example_catalogue(), example_rates()
    if catalogue_file:
        catalogue = _read_with(catalogue_from_dict, catalogue_file)
    if rates_file:
        rates = _read_with(rates_from_dict, rates_file)

    def estimate_from(data: dict[str, Any]) -> dict[str, Any]:
        spec = spec_from_dict(data, catalogue=catalogue)
        return estimate_to_dict(estimate(spec, catalogue=catalogue, rates=rates))

    return _read_with(estimate_from, spec_file)


def _read_with(read: Any, name: str) -> Any:
    try:
        return read(_load(name))
    except BadInput as refused:
        _refuse(f"{_label(name)}: {refused}")


def _load(name: str) -> Any:
    """Strict JSON: UTF-8, no NaN or Infinity, no key given twice."""
    try:
        text = _bytes(name).decode("utf-8-sig")
        return json.loads(
            text,
            parse_constant=_no_constant,
            parse_int=_short_int,
            object_pairs_hook=_unique_keys,
        )
    except UnicodeDecodeError as error:
        _refuse(f"{_label(name)}: not UTF-8 text, at byte {error.start}")
    except RecursionError:
        _refuse(f"{_label(name)}: nested too deeply")
    except json.JSONDecodeError as error:
        where = f"line {error.lineno} column {error.colno}"
        _refuse(f"{_label(name)}: not valid JSON, {error.msg} at {where}")
    except ValueError as error:
        _refuse(f"{_label(name)}: not valid JSON, {error}")


def _bytes(name: str) -> bytes:
    try:
        if name == "-":
            data = sys.stdin.buffer.read(_MOST_BYTES + 1)
        else:
            with Path(name).open("rb") as file:
                data = file.read(_MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else "not a file name"
        _refuse(f"{_label(name)}: cannot be read, {reason}")
    if len(data) > _MOST_BYTES:
        _refuse(f"{_label(name)}: larger than {_MOST_BYTES // 1_000_000} MB")
    return data


def _label(name: str) -> str:
    return "standard input" if name == "-" else json.dumps(name, ensure_ascii=False).strip('"')


def _no_constant(name: str) -> NoReturn:
    raise ValueError(f"{name} is not a number in JSON")


def _short_int(digits: str) -> int:
    if len(digits) > _MOST_DIGITS:
        raise ValueError("it holds a number with too many digits")
    return int(digits)


def _unique_keys(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise ValueError(f"the key {json.dumps(key[:40])} is given twice in one object")
        found[key] = value
    return found


def _refuse(message: str) -> NoReturn:
    raise Refused(message, returncode=2)
