"""What is wrong with an input, all of it at once, in words its writer can act on."""

from collections.abc import Iterable
from dataclasses import dataclass

_NAMED_IN_ONE_LINE = 3


@dataclass(frozen=True)
class Problem:
    """`key` is a dotted path such as `width[1][1]`; `message` says what is allowed."""

    key: str
    message: str

    def __str__(self) -> str:
        return f"{self.key}: {self.message}" if self.key else self.message


class BadInput(ValueError):
    """An input is refused; `problems` holds every reason, `str()` is one line."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__(self._one_line())

    def _one_line(self) -> str:
        named = "; ".join(str(problem) for problem in self.problems[:_NAMED_IN_ONE_LINE])
        more = len(self.problems) - _NAMED_IN_ONE_LINE
        return f"{named}; and {more} more" if more > 0 else named


class SpecError(BadInput):
    """A spec is refused."""


class RatesError(BadInput):
    """A set of rates is refused."""


class CatalogueError(BadInput):
    """A catalogue is refused."""
