"""A client's phone in a race, as a process of its own: told by its standard input which edition to
accept, it says in a line what came of it."""

import sys
import traceback
from datetime import UTC, datetime

from django.db import connection

from quoting.models import Edition
from quoting.promise.service import AnswerRefused, edition_accept
from quoting.quotes.combinations import counted_choice

NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)


def accept(pk: int, name: str) -> str:
    edition = Edition.objects.select_related("quote__job").get(pk=pk)
    try:
        answer = edition_accept(
            edition=edition,
            link=None,
            typed_name=name,
            chosen=counted_choice(edition.result),
            address=None,
            now=NOW,
        )
    except AnswerRefused as refused:
        return refused.state
    return f"{answer.outcome} {answer.pk}"


def main(name: str) -> None:
    connection.ensure_connection()
    print("ready", flush=True)  # noqa: T201
    for line in sys.stdin:
        try:
            said = accept(int(line), name)
        except Exception:
            said = "EXCEPTION " + traceback.format_exc().replace("\n", " | ")
        print(said, flush=True)  # noqa: T201
