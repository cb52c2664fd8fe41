"""Rows that say what happened. They are written once; a correction is another row."""

from typing import Any, NoReturn

from django.db import models

WRITTEN_ONCE = "What happened is written once: add another row instead of changing this one."


class WrittenOnce(Exception):
    """Something tried to change or remove a row of a history."""


class AppendOnlyQuerySet(models.QuerySet):
    def update(self, **kwargs: Any) -> NoReturn:
        raise WrittenOnce(WRITTEN_ONCE)

    def delete(self) -> NoReturn:
        raise WrittenOnce(WRITTEN_ONCE)

    # As Django does for its own: callable from code, never from a template.
    update.alters_data = True
    delete.alters_data = True
    delete.queryset_only = True


class AppendOnly(models.Model):
    objects = AppendOnlyQuerySet.as_manager()

    class Meta:
        abstract = True

    def save(self, *args: Any, **kwargs: Any) -> None:
        if not self._state.adding:
            raise WrittenOnce(WRITTEN_ONCE)
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> NoReturn:
        raise WrittenOnce(WRITTEN_ONCE)
