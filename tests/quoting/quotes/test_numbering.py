"""Quote numbers: the business's initials and a number that only goes up, whoever asks at once."""

import os
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from django.db import connection, transaction

from decor.models import Business
from quoting.models import Quote
from quoting.quotes.numbering import initials_of, next_quote_number
from quoting.quotes.service import quote_start
from tests.factories import BusinessFactory, JobFactory, QuoteFactory, RateCardFactory

ROOT = Path(__file__).parents[3]
PROCESSES, EACH = 4, 5


@pytest.mark.parametrize(
    ("name", "initials"),
    [
        ("Larkspur Lane Garlands", "LL"),
        ("larkspur lane", "LL"),
        ("Larkspur", "LA"),
        ("L", "L"),
        ("The 4th Street Garland Room", "TT"),
        ("Émile & Zoë", "EZ"),
        ("“Quill” & Kettle", "QK"),
        ("風船", "Q"),
        ("1 2 3", "Q"),
    ],
)
def test_the_prefix_is_two_letters_of_the_name(name: str, initials: str) -> None:
    assert initials_of(name) == initials


def test_the_first_quote_has_the_first_number(business: Business) -> None:
    with transaction.atomic():
        assert next_quote_number() == "LL-1001"


def test_numbers_go_on_when_the_business_takes_another_name(business: Business) -> None:
    QuoteFactory(number="LL-1042")
    Business.objects.update(name="Quill and Kettle")

    with transaction.atomic():
        assert next_quote_number() == "QA-1043"


def test_a_number_above_9999_still_counts_up(business: Business) -> None:
    QuoteFactory(number="LL-9999")

    with transaction.atomic():
        assert next_quote_number() == "LL-10000"


STARTER = """
import sys, django; django.setup()
from datetime import date
from decor.models import Job
from quoting.quotes.service import quote_start
sys.stdin.readline()
for _ in range(int(sys.argv[2])):
    quote_start(job=Job.objects.get(pk=sys.argv[1]), today=date(2026, 6, 13))
"""


@pytest.mark.django_db(transaction=True)
def test_quotes_started_at_once_get_numbers_of_their_own(tmp_path: Path) -> None:
    """In processes of their own on a database that they share: memory would hide the locking."""
    environment = {**os.environ, "DJANGO_SETTINGS_MODULE": "tests.settings"}
    environment["DATABASE_URL"] = _shared_database(tmp_path)
    is_file = connection.vendor == "sqlite"
    job_pk = _made_elsewhere(environment) if is_file else _made_here()

    starters = [
        subprocess.Popen(
            [sys.executable, "-c", STARTER, str(job_pk), str(EACH)],
            env=environment,
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )
        for _ in range(PROCESSES)
    ]
    errors = [starter.communicate(b"go\n")[1].decode() for starter in starters]

    assert [starter.returncode for starter in starters] == [0] * PROCESSES, errors
    numbers = _numbers(environment)
    assert sorted(numbers) == [f"LL-{1001 + n}" for n in range(PROCESSES * EACH)]


def _shared_database(tmp_path: Path) -> str:
    if connection.vendor == "sqlite":
        return f"sqlite:///{tmp_path / 'shared.sqlite3'}"
    had = connection.settings_dict
    place = f"{had['HOST'] or 'localhost'}:{had['PORT'] or 5432}"
    return f"postgres://{had['USER']}:{had['PASSWORD']}@{place}/{had['NAME']}"


MAKER = """
import django; django.setup()
from django.core.management import call_command
call_command("migrate", verbosity=0)
from tests.factories import BusinessFactory, JobFactory, RateCardFactory
BusinessFactory(); RateCardFactory()
print(JobFactory().pk)
"""
TELLER = """
import django; django.setup()
from quoting.models import Quote
print(*Quote.objects.values_list("number", flat=True))
"""


def _made_elsewhere(environment: dict[str, str]) -> int:
    return int(_said(MAKER, environment))


def _made_here() -> int:
    BusinessFactory()
    RateCardFactory()
    return JobFactory().pk


def _numbers(environment: dict[str, str]) -> list[str]:
    return _said(TELLER, environment).split()


def _said(script: str, environment: dict[str, str]) -> str:
    return subprocess.run(
        [sys.executable, "-c", script],
        env=environment,
        cwd=ROOT,
        capture_output=True,
        check=True,
        text=True,
    ).stdout


def test_without_the_lock_two_would_get_the_same_number(business: Business) -> None:
    """What the lock is for: the number is read first and written later."""
    RateCardFactory()
    with transaction.atomic():
        one, other = next_quote_number(), next_quote_number()

    assert one == other
    started = quote_start(job=JobFactory(), today=date(2026, 6, 13))
    assert Quote.objects.get().number == started.number == one
