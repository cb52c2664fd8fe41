from datetime import date
from typing import Any

import pytest
from django.apps import apps
from django.contrib.auth.models import User
from django.db import connection
from django.db.models.signals import post_migrate
from django.test import Client as Browser
from hypothesis import HealthCheck, settings

from decor.guards import Guards
from decor.models import Business
from decor.payments.guards import GUARDS as PAYMENT_GUARDS
from inventory.ledger.guards import GUARDS as LEDGER_GUARDS
from tests.factories import BusinessFactory, UserFactory

TODAY = date(2026, 6, 13)
# An example's time says how busy the machine is and nothing of what is tested.
settings.register_profile("untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("untimed")
DATABASE_FIXTURES = {"db", "transactional_db", "live_server"}
# What is drawn or set in type comes of values, whichever database they were kept in, and a browser
# shows the same of them: only its stories, which write all along, are played on both.
ANY_DATABASE = (
    "tests/browser/test_accessibility.py",
    "tests/browser/test_client_page.py",
    "tests/browser/test_delivery_and_counting.py",
    "tests/browser/test_keep.py",
    "tests/browser/test_making.py",
    "tests/browser/test_picking_a_colour.py",
    "tests/browser/test_piece_page.py",
    "tests/browser/test_trace.py",
    "tests/browser/test_visit_sheet.py",
    "tests/decor/documents/",
    "tests/inventory/catalogue/test_measuring.py",
    "tests/inventory/labels/",
    "tests/quoting/documents/",
    "tests/quoting/pictures/",
    "tests/quoting/quotes/test_choices.py",
    "tests/quoting/quotes/test_since.py",
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What meets the database through a fixture says so too: `-m django_db` is all that does."""
    for item in items:
        meets_it = DATABASE_FIXTURES & set(getattr(item, "fixturenames", ()))
        if meets_it and item.get_closest_marker("django_db") is None:
            item.add_marker(pytest.mark.django_db)
        if item.nodeid.startswith(ANY_DATABASE):
            item.add_marker(pytest.mark.any_database)


@pytest.fixture(scope="session")
def django_db_setup(django_db_setup: None, django_db_blocker: Any) -> None:
    """Tests that commit are followed by emptying every table, which a ledger's guard against
    deletion would refuse. It is tested where it is put back: tests/inventory/ledger/test_guards.py
    and tests/decor/payments/test_guards.py.
    """
    for app, guards in (("decor", PAYMENT_GUARDS), ("inventory", LEDGER_GUARDS)):
        post_migrate.disconnect(guards.after_migrate, sender=apps.get_app_config(app))
        with django_db_blocker.unblock():
            allow_deletion(guards)


def allow_deletion(guards: Guards) -> None:
    """PostgreSQL truncates, which no guard is told of, but SQLite deletes row by row."""
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute(f"DROP TRIGGER {guards.undeleted}")


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
