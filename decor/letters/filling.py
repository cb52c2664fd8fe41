"""Fields in braces, found and filled in."""

import re
from collections.abc import Mapping

from decor.letters.fields import LateField, late_fields, letter_fields
from decor.models import Job

IN_BRACES = re.compile(r"\{([^{}]*)\}")
AND_A_STOP = re.compile(IN_BRACES.pattern + r"(\.?)")
GAP = re.compile(r"\n{3,}")
NO_SUCH_FIELD = "{{{name}}} is not a field. Choose from the list, letter for letter."
LONE_BRACE = "A brace stands alone: a field is a name between { and }, such as {client}."


def problems_of(text: str) -> list[str]:
    """What the owner must mend before this text can be filled in."""
    known = {*letter_fields(), *late_fields()}
    strangers = dict.fromkeys(name for name in IN_BRACES.findall(text) if name not in known)
    problems = [NO_SUCH_FIELD.format(name=name) for name in strangers]
    rest = IN_BRACES.sub("", text)
    return [*problems, LONE_BRACE] if "{" in rest or "}" in rest else problems


def filled(text: str, job: Job, told: Mapping[str, str] | None = None) -> str:
    """Late fields stay in their braces, to be filled in when the letter is sent. `told` are values
    that the job alone cannot know, such as which of its quotes is meant."""
    fields, told = letter_fields(), told or {}

    def value_of(found: re.Match[str]) -> str:
        field = fields.get(found[1])
        if field is None:
            return found[0]
        value = _without_braces(told.get(field.name) or field.said(job))
        return value if value.endswith(".") else value + found[2]  # “6 p.m.” ends a sentence too

    return GAP.sub("\n\n", AND_A_STOP.sub(value_of, plain_lines(text))).strip()


def empty_fields(text: str, job: Job) -> list[str]:
    """The fields of a text for which this job has nothing of its own to say."""
    fields = letter_fields()
    used = dict.fromkeys(IN_BRACES.findall(text))
    return [name for name in used if name in fields and not fields[name].value(job)]


def late_in(text: str) -> list[LateField]:
    late, used = late_fields(), set(IN_BRACES.findall(text))
    return [field for name, field in late.items() if name in used]


def late_filled(text: str, values: Mapping[str, str]) -> str:
    return IN_BRACES.sub(lambda found: values.get(found[1], found[0]), text)


def one_line(text: str) -> str:
    """As a header may hold it: a line break of any kind is only a space."""
    return " ".join(text.replace("\0", " ").split())


def plain_lines(text: str) -> str:
    """A browser ends lines its own way; a mail server ends them its own way again."""
    return text.replace("\r\n", "\n").replace("\r", "\n").replace("\0", "")


def _without_braces(value: str) -> str:
    """A job's title or a client's name must not bring in fields of its own."""
    return plain_lines(value).replace("{", "(").replace("}", ")")
