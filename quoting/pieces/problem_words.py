"""What the estimator refuses, beside the field it is about and in the business's units."""

from collections.abc import Iterable, Iterator

from decor.display import length_text
from quoting.estimator import Problem
from quoting.estimator import constants as c
from quoting.pieces.checks import FieldProblem
from quoting.pieces.spec_building import BuiltSpec


def field_problems(
    problems: Iterable[Problem], built: BuiltSpec, *, units: str
) -> Iterator[FieldProblem]:
    for problem in problems:
        yield FieldProblem(built.field_of(problem.key), _words(problem, units))


def _words(problem: Problem, units: str) -> str:
    if problem.key == "path":
        low, high = (length_text(metres, units) for metres in c.PATH_M)
        return f"All along its path it must be between {low} and {high} long."
    return sentence(problem.message)


def sentence(message: str) -> str:
    return message[:1].upper() + message[1:] + "."
