from datetime import UTC, datetime, timedelta

import pytest

from decor.jobs.lists import When, jobs_found
from tests.factories import ClientFactory, JobFactory, SiteFactory

pytestmark = pytest.mark.django_db


def titles(today, *, search="", stage="", when=When.ALL) -> list[str]:
    found = jobs_found(search=search, stage=stage, when=when, today=today)
    return [job.title for job in found]


@pytest.fixture
def jobs(today):
    library = ClientFactory()
    twins = ClientFactory(name="Zoë Brannigan", email="", phone="+1 207 555 0177")
    porch = SiteFactory(client=twins, name="Front porch", address="9 Gull Lane")
    days = timedelta(days=1)
    JobFactory(title="Arch", client=library, event_on=today, stage="promised")
    JobFactory(title="Swag", client=twins, site=porch, event_on=today + 5 * days)
    JobFactory(title="Someday", client=twins, site=None, event_on=None)
    JobFactory(title="Ring", client=library, event_on=today - 1 * days, stage="done")
    JobFactory(title="Posts", client=library, event_on=today - 9 * days, stage="lost")
    JobFactory(title="Gone", client=library, archived_at=datetime(2026, 1, 1, tzinfo=UTC))


@pytest.mark.parametrize(
    ("when", "shown"),
    [
        (When.UPCOMING, ["Arch", "Swag", "Someday"]),
        (When.PAST, ["Ring", "Posts"]),
        (When.ALL, ["Swag", "Arch", "Ring", "Posts", "Someday"]),
        (When.ARCHIVED, ["Gone"]),
    ],
)
def test_jobs_stand_by_date_and_those_without_one_last(jobs, today, when, shown):
    assert titles(today, when=when) == shown


def test_a_stage_narrows_the_list(jobs, today):
    assert titles(today, stage="lost") == ["Posts"]


@pytest.mark.parametrize(
    "search",
    ["swag", "SWAG", "front porch", "gull", "swag zoe", "zoe porch", "swag 0177"],
)
def test_each_word_may_be_in_the_job_its_place_or_its_client(jobs, today, search):
    assert titles(today, search=search) == ["Swag"]


@pytest.mark.parametrize("search", ["zoe", "(207) 555-0177", "2075550177", "BRANNIGAN"])
def test_a_client_is_found_by_name_without_accents_and_by_phone(jobs, today, search):
    assert titles(today, search=search) == ["Swag", "Someday"]


@pytest.mark.parametrize("search", ["swag library", "nothing", "%", "swag _"])
def test_words_that_are_nowhere_find_nothing(jobs, today, search):
    assert titles(today, search=search) == []
