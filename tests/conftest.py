from datetime import date

import pytest
from django.contrib.auth.models import User
from django.test import Client as Browser

from decor.models import Business
from tests.factories import BusinessFactory, UserFactory

TODAY = date(2026, 6, 13)


@pytest.fixture
def today() -> date:
    """A Saturday. Pass it to services; to freeze what views see, use `time_machine`."""
    return TODAY


@pytest.fixture
def business(db: None) -> Business:
    return BusinessFactory()


@pytest.fixture
def owner(db: None) -> User:
    return UserFactory()


@pytest.fixture
def owner_client(business: Business, owner: User) -> Browser:
    """A browser in which the owner is logged in."""
    browser = Browser()
    browser.force_login(owner)
    return browser
