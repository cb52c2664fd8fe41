"""What a letter's text can have in braces. Other rooms add theirs when their app is ready."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from decor.models import Job


@dataclass(frozen=True, kw_only=True)
class LetterField:
    """`value` may be empty for a job: then the letter says `otherwise`."""

    name: str
    help: str
    value: Callable[[Job], str]
    otherwise: str = ""

    def said(self, job: Job) -> str:
        return self.value(job) or self.otherwise


@dataclass(frozen=True)
class Minted:
    """What stands in the letter, and how to make it worthless if the letter does not go."""

    text: str
    revoke: Callable[[], None]


@dataclass(frozen=True, kw_only=True)
class LateField:
    """A secret: made only while the letter is being sent, so that it lies in no outbox.

    `missing` says to the owner why a job has none, or nothing where it has one.
    """

    name: str
    help: str
    missing: Callable[[Job], str]
    mint: Callable[[Job, datetime], Minted]


_fields: dict[str, LetterField] = {}
_late: dict[str, LateField] = {}


def register(name: str, help: str, value: Callable[[Job], str], *, otherwise: str = "") -> None:
    _fields[name] = LetterField(name=name, help=help, value=value, otherwise=otherwise)


def register_late(
    name: str,
    help: str,
    *,
    missing: Callable[[Job], str],
    mint: Callable[[Job, datetime], Minted],
) -> None:
    _late[name] = LateField(name=name, help=help, missing=missing, mint=mint)


def letter_fields() -> dict[str, LetterField]:
    return dict(_fields)


def every_field() -> list[LetterField | LateField]:
    """As they are offered to the owner, in the order they were registered."""
    return [*_fields.values(), *_late.values()]


def late_fields() -> dict[str, LateField]:
    return dict(_late)
