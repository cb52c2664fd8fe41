"""A letter as it is shown before it goes: a secret is named, never made."""

from dataclasses import dataclass

from decor.letters.fields import late_fields
from decor.letters.filling import empty_fields, filled, late_filled, one_line
from decor.letters.texts import Words
from decor.models import Job

SECRET = "[their own private address, made as the letter goes]"


@dataclass(frozen=True)
class Shown:
    """`empty` are the fields for which the job has nothing of its own to say."""

    subject: str
    body: str
    empty: tuple[str, ...] = ()


def shown(words: Words, job: Job) -> Shown:
    return Shown(
        subject=one_line(filled(words.subject, job)),
        body=without_secrets(filled(words.body, job)),
        empty=tuple(empty_fields(f"{words.subject}\n{words.body}", job)),
    )


def without_secrets(body: str) -> str:
    return late_filled(body, dict.fromkeys(late_fields(), SECRET))
