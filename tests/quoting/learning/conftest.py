from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from decor.models import Job
from decor.models.business import Business
from decor.models.job import Stage
from inventory.catalogue.starter import add_starter_catalogue
from quoting.look_back.comparing import compare
from quoting.look_back.service import look_back_close
from quoting.making.working import work_type
from quoting.models import LookBack
from tests.factories import JobFactory, PieceFactory, QuoteFactory

NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)


@pytest.fixture
def looked_back(business: Business) -> Callable[..., LookBack]:
    """Closes the look-back of another arch, whose phases took so many times their plan."""
    add_starter_catalogue()

    def close(title: str, *, days_ago: int = 0, **took: float) -> LookBack:
        quote = QuoteFactory(job=JobFactory(title=title, stage=Stage.UP))
        PieceFactory(quote=quote)
        job: Job = quote.job
        planned = {row.phase: row.planned for row in compare(job).phases}
        for phase, times in took.items():
            phase = phase.replace("_", " ")
            minutes = max(1, round(planned[phase] * times * 60))
            work_type(job=job, phase=phase, on=NOW.date(), minutes=minutes, people=1, by=None)
        return look_back_close(job=job, by=None, now=NOW - timedelta(days=days_ago))

    return close
