from collections.abc import Iterator

import pytest
from django.utils import timezone

from tests.decor.calendar.planning import ZONE


@pytest.fixture(autouse=True)
def in_the_business_s_zone() -> Iterator[None]:
    with timezone.override(ZONE):
        yield
