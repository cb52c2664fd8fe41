"""One who starts quotes, as a process of its own: one for every line of its standard input."""

import sys
import traceback
from datetime import date

from decor.models import Job
from quoting.quotes.service import quote_start


def main(job_pk: str) -> None:
    job = Job.objects.get(pk=int(job_pk))
    print("ready", flush=True)  # noqa: T201
    for _ in sys.stdin:
        try:
            quote_start(job=job, today=date(2026, 6, 13))
            print("started", flush=True)  # noqa: T201
        except Exception:
            print("EXCEPTION " + traceback.format_exc().replace("\n", " | "), flush=True)  # noqa: T201
