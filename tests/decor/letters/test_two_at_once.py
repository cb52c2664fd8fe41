"""Several senders at once, each a process, on the database under test. First without claims, to
show that it is a race."""

import re
from pathlib import Path

import pytest

from decor.models import Letter
from decor.models.letter import LetterState
from tests.decor.letters.conftest import NOW
from tests.factories import BusinessFactory, JobFactory
from tests.processes import Racer, race, racers

pytestmark = pytest.mark.django_db(transaction=True)

SENDERS, LETTERS = 4, 30
NAME = re.compile(r"^Message-ID: <letter-(\d+)-", re.MULTILINE)


def letters_wait() -> None:
    job = JobFactory(client__name="Race")
    Letter.objects.bulk_create(
        Letter(
            job=job,
            kind="thank_you",
            to="reading@wexcombebay.example",
            subject="Thank you",
            body="Hello",
            written_at=NOW,
        )
        for _ in range(LETTERS)
    )


def sent_by(senders: list[Racer], how: str) -> int:
    said = race(senders, [f"{how} {NOW.isoformat()}"] * SENDERS)
    return sum(map(int, said.elements()))


def gone(folder: Path) -> list[str]:
    """The numbers of the letters that a mail server was given, as often as it was."""
    return [name for file in folder.iterdir() for name in NAME.findall(file.read_text())]


def test_each_letter_goes_once_however_many_send_but_without_claims_some_go_twice(tmp_path):
    BusinessFactory()
    letters_wait()
    with racers("tests.decor.letters.sender", *[str(tmp_path)] * SENDERS) as senders:
        assert sent_by(senders, "without-claims") > LETTERS
        assert len(gone(tmp_path)) > len(set(gone(tmp_path)))
        for file in tmp_path.iterdir():
            file.unlink()
        Letter.objects.all().delete()
        letters_wait()
        assert sent_by(senders, "with-claims") == LETTERS
    numbers = gone(tmp_path)
    assert len(numbers) == len(set(numbers)) == LETTERS
    assert set(Letter.objects.values_list("state", "tries")) == {(LetterState.SENT, 1)}
