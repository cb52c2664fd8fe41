"""One thing that can go wrong: how grave, with its numbers, and what to do instead."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import IntEnum

from ..saying import Quantity, UnitSystem, fill_in


class Severity(IntEnum):
    STOP = 1
    CARE = 2
    NOTE = 3


@dataclass(frozen=True)
class Caution:
    """`sentence` says what is wrong, `instead` what to do; `{name}` in either is a number.

    `key` names the kind of caution, so that a page can place or count it.
    """

    severity: Severity
    key: str
    sentence: str
    instead: str
    numbers: Mapping[str, Quantity] = field(default_factory=dict)

    def said(self, units: str) -> str:
        return fill_in(f"{self.sentence}: {self.instead}.", self.numbers, units)

    @property
    def text(self) -> str:
        return self.said(UnitSystem.METRIC)

    def __str__(self) -> str:
        return self.text
