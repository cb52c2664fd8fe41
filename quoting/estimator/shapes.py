"""Shapes of JSON values: each reads strictly and prints its own JSON Schema.

One description serves both, so that the schema cannot disagree with the parser. `read`
adds to `problems` and returns `BAD` when a value is refused, so that one pass finds
everything that is wrong.
"""

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Final, Protocol

from .problems import Problem

BAD: Final = object()
REQUIRED: Final = object()
_SHOWN_LENGTH = 40
_HUGE_BITS = 200


class Shape(Protocol):
    def read(self, value: object, key: str, problems: list[Problem]) -> Any: ...

    def schema(self) -> dict[str, Any]: ...


def shown(value: object) -> str:
    """A value for a message: short, on one line, safe to print anywhere."""
    if isinstance(value, int) and value.bit_length() > _HUGE_BITS:
        return "a number with too many digits"
    if isinstance(value, dict):
        return "an object"
    if isinstance(value, list | tuple):
        return "a list"
    try:
        text = json.dumps(value)
    except (TypeError, ValueError):
        text = type(value).__name__
    return text if len(text) <= _SHOWN_LENGTH else text[: _SHOWN_LENGTH - 3] + "..."


def key_of(parent: str, name: object) -> str:
    plain = isinstance(name, str) and name.isidentifier() and name.isascii()
    part = name if plain and len(str(name)) <= _SHOWN_LENGTH else shown(name)
    return f"{parent}.{part}" if parent else str(part)


def _no_problems(value: Any, key: str) -> Iterable[Problem]:
    return ()


def _refuse(problems: list[Problem], key: str, allowed: str, value: object) -> object:
    problems.append(Problem(key, f"must be {allowed}, not {shown(value)}"))
    return BAD


@dataclass(frozen=True)
class Number:
    low: float
    high: float
    unit: str = ""
    about: str = ""

    def read(self, value: object, key: str, problems: list[Problem]) -> Any:
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        # A comparison and not isfinite(): it refuses NaN, infinity and integers too
        # large for a float in one go.
        if is_number and self.low <= value <= self.high:
            return float(value)
        return _refuse(problems, key, self._allowed(), value)

    def _allowed(self) -> str:
        return f"a number from {self.low:g} to {self.high:g} {self.unit}".rstrip()

    def schema(self) -> dict[str, Any]:
        about = self.about or self.unit
        described = {"description": about} if about else {}
        return {"type": "number", "minimum": self.low, "maximum": self.high, **described}


@dataclass(frozen=True)
class Whole:
    low: int
    high: int
    unit: str = ""
    about: str = ""

    def read(self, value: object, key: str, problems: list[Problem]) -> Any:
        # JSON Schema counts 8.0 as an integer, and so do we.
        is_whole = (isinstance(value, int) and not isinstance(value, bool)) or (
            isinstance(value, float) and value.is_integer()
        )
        if is_whole and self.low <= value <= self.high:
            return int(value)
        allowed = f"a whole number from {self.low} to {self.high} {self.unit}".rstrip()
        return _refuse(problems, key, allowed, value)

    def schema(self) -> dict[str, Any]:
        about = self.about or self.unit
        described = {"description": about} if about else {}
        return {"type": "integer", "minimum": self.low, "maximum": self.high, **described}


@dataclass(frozen=True)
class YesNo:
    about: str = ""

    def read(self, value: object, key: str, problems: list[Problem]) -> Any:
        return value if isinstance(value, bool) else _refuse(problems, key, "true or false", value)

    def schema(self) -> dict[str, Any]:
        return {"type": "boolean", **({"description": self.about} if self.about else {})}


@dataclass(frozen=True)
class Text:
    most: int = 60
    about: str = ""

    def read(self, value: object, key: str, problems: list[Problem]) -> Any:
        if isinstance(value, str) and 1 <= len(value) <= self.most:
            return value
        return _refuse(problems, key, f"text of 1 to {self.most} characters", value)

    def schema(self) -> dict[str, Any]:
        described = {"description": self.about} if self.about else {}
        return {"type": "string", "minLength": 1, "maxLength": self.most, **described}


@dataclass(frozen=True)
class Choice:
    options: tuple[str | int, ...]
    about: str = ""

    def read(self, value: object, key: str, problems: list[Problem]) -> Any:
        if not isinstance(value, bool) and isinstance(value, str | int | float):
            for option in self.options:
                if value == option:
                    return option
        allowed = " or ".join(str(option) for option in self.options)
        return _refuse(problems, key, allowed, value)

    def schema(self) -> dict[str, Any]:
        described = {"description": self.about} if self.about else {}
        return {"enum": list(self.options), **described}


@dataclass(frozen=True)
class Maybe:
    """A value that may be null."""

    of: Shape

    def read(self, value: object, key: str, problems: list[Problem]) -> Any:
        return None if value is None else self.of.read(value, key, problems)

    def schema(self) -> dict[str, Any]:
        return {"anyOf": [self.of.schema(), {"type": "null"}]}


@dataclass(frozen=True)
class Each:
    """A list of like things."""

    of: Shape
    least: int
    most: int
    check: Callable[[Any, str], Iterable[Problem]] = _no_problems

    def read(self, value: object, key: str, problems: list[Problem]) -> Any:
        if not isinstance(value, list | tuple) or not self.least <= len(value) <= self.most:
            allowed = f"a list of {self.least} to {self.most} entries"
            given = f"{len(value)} entries" if isinstance(value, list | tuple) else shown(value)
            problems.append(Problem(key, f"must be {allowed}, not {given}"))
            return BAD
        entries = tuple(self.of.read(v, f"{key}[{i}]", problems) for i, v in enumerate(value))
        if any(entry is BAD for entry in entries):
            return BAD
        found = list(self.check(entries, key))
        problems.extend(found)
        return BAD if found else entries

    def schema(self) -> dict[str, Any]:
        return {
            "type": "array",
            "items": self.of.schema(),
            "minItems": self.least,
            "maxItems": self.most,
        }


@dataclass(frozen=True)
class Fixed:
    """A list with a place for each part, such as [low, high] or [x, y, z]."""

    parts: tuple[Shape, ...]
    make: Callable[..., Any]
    reads_as: str

    def read(self, value: object, key: str, problems: list[Problem]) -> Any:
        if not isinstance(value, list | tuple) or len(value) != len(self.parts):
            return _refuse(problems, key, self.reads_as, value)
        pairs = enumerate(zip(self.parts, value, strict=True))
        read = [part.read(v, f"{key}[{i}]", problems) for i, (part, v) in pairs]
        return BAD if any(v is BAD for v in read) else self.make(*read)

    def schema(self) -> dict[str, Any]:
        return {
            "type": "array",
            "description": self.reads_as,
            "prefixItems": [part.schema() for part in self.parts],
            "items": False,
            "minItems": len(self.parts),
        }


@dataclass(frozen=True)
class Field:
    shape: Shape
    default: Any = REQUIRED


@dataclass(frozen=True)
class Record:
    """An object with known keys. `check` sees the fields that read well."""

    make: Callable[..., Any]
    fields: Mapping[str, Field]
    check: Callable[[Mapping[str, Any], str], Iterable[Problem]] = _no_problems

    def read(self, value: object, key: str, problems: list[Problem]) -> Any:
        before = len(problems)
        read = self.read_fields(value, key, problems)
        return self.make(**read) if len(problems) == before else BAD

    def read_fields(self, value: object, key: str, problems: list[Problem]) -> dict[str, Any]:
        """The fields that read well, by name; the rest are in `problems`."""
        if not isinstance(value, Mapping):
            _refuse(problems, key, f"an object with {', '.join(self.fields)}", value)
            return {}
        self._refuse_unknown(value, key, problems)
        read = {name: self._read_field(value, name, key, problems) for name in self.fields}
        good = {name: v for name, v in read.items() if v is not BAD}
        problems.extend(self.check(good, key))
        return good

    def _read_field(
        self, value: Mapping[Any, Any], name: str, key: str, problems: list[Problem]
    ) -> Any:
        wanted = self.fields[name]
        if name in value:
            return wanted.shape.read(value[name], key_of(key, name), problems)
        if wanted.default is REQUIRED:
            problems.append(Problem(key_of(key, name), "is missing and is required"))
            return BAD
        return wanted.default

    def _refuse_unknown(self, value: Mapping[Any, Any], key: str, problems: list[Problem]) -> None:
        for name in value:
            if name not in self.fields:
                allowed = f"unknown key; the keys allowed here are {', '.join(self.fields)}"
                problems.append(Problem(key_of(key, name), allowed))

    def schema(self) -> dict[str, Any]:
        return {
            "type": "object",
            "properties": {name: f.shape.schema() for name, f in self.fields.items()},
            "required": [n for n, f in self.fields.items() if f.default is REQUIRED],
            "additionalProperties": False,
        }


@dataclass(frozen=True)
class OneOf:
    """An object whose tag says which record it is."""

    tag: str
    options: Mapping[str, Record]
    check: Callable[[Any, str], Iterable[Problem]] = _no_problems

    def read(self, value: object, key: str, problems: list[Problem]) -> Any:
        if not isinstance(value, Mapping):
            return _refuse(problems, key, f"an object with {self.tag}", value)
        choice = Choice(tuple(self.options))
        kind = choice.read(value.get(self.tag), key_of(key, self.tag), problems)
        if kind is BAD:
            return BAD
        rest = {name: v for name, v in value.items() if name != self.tag}
        read = self.options[kind].read(rest, key, problems)
        if read is BAD:
            return BAD
        found = list(self.check(read, key))
        problems.extend(found)
        return BAD if found else read

    def schema(self) -> dict[str, Any]:
        return {"oneOf": [self._tagged(kind, record) for kind, record in self.options.items()]}

    def _tagged(self, kind: str, record: Record) -> dict[str, Any]:
        plain = record.schema()
        return {
            **plain,
            "properties": {self.tag: {"const": kind}, **plain["properties"]},
            "required": [self.tag, *plain["required"]],
        }


@dataclass(frozen=True)
class Table:
    """An object whose keys come from a known set, each with the same shape of value."""

    keys: tuple[str, ...]
    of: Shape = field(default_factory=Text)

    def read(self, value: object, key: str, problems: list[Problem]) -> Any:
        before = len(problems)
        record = Record(dict, {name: Field(self.of, None) for name in self.keys})
        read = record.read_fields(value, key, problems)
        good = {name: v for name, v in read.items() if v is not None}
        return good if len(problems) == before else BAD

    def schema(self) -> dict[str, Any]:
        properties = {name: self.of.schema() for name in self.keys}
        return {"type": "object", "properties": properties, "additionalProperties": False}
