"""The database watches the money itself, whoever writes to it and by whatever road."""

from datetime import UTC, datetime

import pytest
from django.apps import apps
from django.db import IntegrityError, connection, transaction

from decor.models import PaymentLine
from decor.payments.guards import GUARDS
from tests.conftest import TODAY
from tests.factories import JobFactory

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def every_guard(db: None) -> None:
    GUARDS.install(connection)


@pytest.fixture
def line() -> PaymentLine:
    at = datetime(2026, 6, 13, 15, tzinfo=UTC)
    return PaymentLine.objects.create(
        job=JobFactory(), kind="payment", amount_cents=100_00, means="cash", on=TODAY, at=at
    )


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE decor_paymentline SET amount_cents = 200",
        "UPDATE decor_paymentline SET note = 'another'",
        "DELETE FROM decor_paymentline",
    ],
)
def test_sql_by_hand_cannot_bend_a_payment(line: PaymentLine, sql: str) -> None:
    with (
        pytest.raises(IntegrityError, match="written once"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(sql)
    line.refresh_from_db()
    assert (line.amount_cents, line.note) == (100_00, "")


def test_a_payment_can_be_added_after_another(line: PaymentLine) -> None:
    line.pk, line._state.adding = None, True
    line.save()
    assert PaymentLine.objects.count() == 2


@pytest.mark.parametrize(
    ("kind", "cents"), [("payment", -1), ("payment", 0), ("refund", 1), ("correction", 1)]
)
def test_the_database_refuses_a_line_with_the_wrong_sign(kind: str, cents: int) -> None:
    """A correction without the line that it corrects, too."""
    at = datetime(2026, 6, 13, 15, tzinfo=UTC)
    with pytest.raises(IntegrityError), transaction.atomic():
        PaymentLine.objects.create(
            job=JobFactory(), kind=kind, amount_cents=cents, means="cash", on=TODAY, at=at
        )


def test_the_guards_are_lifted_for_a_migration_and_back_after_it() -> None:
    assert GUARDS.missing(connection) == []
    config = apps.get_app_config("decor")
    GUARDS.before_migrate(using="default", sender=config)
    assert bool(GUARDS.missing(connection)) == (connection.vendor == "sqlite")
    GUARDS.after_migrate(using="default", sender=config)
    assert GUARDS.missing(connection) == []
