"""`manage.py estimate FILE|-`: a spec file in, its estimate out, both as JSON; no database."""

import json
import re
import sys
from collections.abc import Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandError, CommandParser

from quoting.estimator import (
    SPEC_SCHEMA,
    BadInput,
    Catalogue,
    Estimate,
    catalogue_from_dict,
    estimate,
    estimate_to_dict,
    example_catalogue,
    example_rates,
    rates_from_dict,
    spec_from_dict,
)
from quoting.estimator.budget import FIT_BY, Fit, fit_budget
from quoting.estimator.explain import Explanation, explanations

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
        parser.add_argument("--picture", help="also draw the garland, as SVG, to this file")
        parser.add_argument(
            "--range",
            action="store_true",
            help="add low, likely and high, and the chance of too small a margin",
        )
        parser.add_argument(
            "--explain",
            action="append",
            default=[],
            metavar="KEY",
            help="add how a figure comes about, such as body or total; all: of every figure",
        )
        parser.add_argument(
            "--fit-budget",
            metavar="TOTAL",
            help="estimate the fullest version whose total with tax is at most this",
        )
        parser.add_argument(
            "--fit-by", default="width", help="what a budget changes: width (default) or length"
        )
        parser.add_argument(
            "--schema", action="store_true", help="print the JSON Schema of the spec file"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        if options["schema"]:
            self._print(SPEC_SCHEMA)
            return
        if not options["file"]:
            _refuse("name a spec file, or - for standard input")
        catalogue, made, fit = _estimate(options)
        if options["picture"]:
            _draw(made, catalogue, options["picture"])
        self._print(estimate_to_dict(made) | _asked_for(made, fit, options))

    def _print(self, result: dict[str, Any]) -> None:
        self.stdout.write(json.dumps(result, indent=2, allow_nan=False))


def _estimate(options: Mapping[str, Any]) -> tuple[Catalogue, Estimate, Fit | None]:
    catalogue, rates = example_catalogue(), example_rates()
    if options["catalogue"]:
        catalogue = _read_with(catalogue_from_dict, options["catalogue"])
    if options["rates"]:
        rates = _read_with(rates_from_dict, options["rates"])
    budget = _budget_cents(options["fit_budget"])
    if options["fit_by"] not in FIT_BY:
        _refuse(f"--fit-by: must be one of {', '.join(FIT_BY)}")

    def estimate_from(data: dict[str, Any]) -> tuple[Estimate, Fit | None]:
        spec = spec_from_dict(data, catalogue=catalogue)
        if budget is None:
            return estimate(spec, catalogue=catalogue, rates=rates), None
        fit = fit_budget(spec, budget, by=options["fit_by"], catalogue=catalogue, rates=rates)
        return fit.made, fit

    return catalogue, *_read_with(estimate_from, options["file"])


def _budget_cents(text: str | None) -> int | None:
    if text is None:
        return None
    if not re.fullmatch(r"[0-9]{1,9}(\.[0-9]{1,2})?", text):
        _refuse("--fit-budget: must be an amount such as 450 or 449.50")
    return int(Decimal(text) * 100)


def _asked_for(made: Estimate, fit: Fit | None, options: Mapping[str, Any]) -> dict[str, Any]:
    if not (fit or options["range"] or options["explain"]):
        return {}
    # Here, as an estimate alone should not wait for numpy.
    from quoting.estimator import further_file
    from quoting.estimator.ranges import range_of

    found: dict[str, Any] = {}
    if fit:
        found["fit"] = further_file.fit_to_dict(fit)
    if options["range"]:
        found["range"] = further_file.range_to_dict(range_of(made))
    if options["explain"]:
        wanted = _explanations(made, options["explain"])
        found["explain"] = [further_file.explanation_to_dict(one) for one in wanted]
    return found


def _explanations(made: Estimate, keys: Sequence[str]) -> list[Explanation]:
    known = explanations(made)
    if "all" in keys:
        return list(known.values())
    for key in keys:
        if key not in known:
            _refuse(f"--explain: there is no {json.dumps(key)}; there are {', '.join(known)}")
    return [known[key] for key in dict.fromkeys(keys)]


def _draw(made: Estimate, catalogue: Catalogue, name: str) -> None:
    # Here, as an estimate alone should not wait for what only a picture needs.
    from quoting.estimator.picture import picture, picture_svg

    # Latex last: its name and colour are the ones that most balloons of a key have.
    items = sorted(catalogue.items, key=lambda item: item.kind)
    try:
        shown = picture(made)
    except BadInput as refused:
        _refuse(f"{_label(name)}: {refused}")
    drawn = picture_svg(
        shown,
        colours={item.colour: item.hex for item in items},
        names={item.colour: item.name for item in items},
    )
    try:
        Path(name).write_text(drawn, encoding="utf-8", newline="\n")
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else "not a file name"
        _refuse(f"{_label(name)}: cannot be written, {reason}")


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
