"""Money is whole cents: on SQLite a DecimalField is a float, and 0.10 + 0.20 is not 0.30."""

from django.apps import apps
from django.db import models

ROOMS = ("decor", "inventory", "quoting")


def _fields() -> list[models.Field]:
    return [
        field
        for room in ROOMS
        for model in apps.get_app_config(room).get_models()
        for field in model._meta.get_fields()
        if isinstance(field, models.Field)
    ]


def test_no_field_is_a_float_or_a_decimal() -> None:
    wrong = [str(f) for f in _fields() if isinstance(f, models.FloatField | models.DecimalField)]

    assert wrong == []


def test_every_amount_is_whole_cents_in_a_big_integer() -> None:
    amounts = [field for field in _fields() if field.name.endswith("_cents")]

    assert len(amounts) >= 6
    assert [str(f) for f in amounts if type(f) is not models.BigIntegerField] == []
