"""Small typed readers of the environment: each fails loudly, naming the variable."""

import os

from django.core.exceptions import ImproperlyConfigured

_YES, _NO = {"1", "true", "yes", "on"}, {"0", "false", "no", "off", ""}


def text(name: str, default: str) -> str:
    return os.environ.get(name, default)


def flag(name: str, *, default: bool = False) -> bool:
    value = os.environ.get(name)
    if value is None:
        return default
    if value.lower() in _YES:
        return True
    if value.lower() in _NO:
        return False
    raise ImproperlyConfigured(f"{name} must be yes or no, not {value!r}")


def number(name: str, default: int) -> int:
    value = os.environ.get(name)
    if value is None:
        return default
    try:
        return int(value)
    except ValueError:
        raise ImproperlyConfigured(f"{name} must be a whole number, not {value!r}") from None


def words(name: str, default: str = "") -> list[str]:
    return [word.strip() for word in text(name, default).split(",") if word.strip()]


def secret(name: str) -> str:
    value = os.environ.get(name, "")
    if not value:
        raise ImproperlyConfigured(
            f"{name} is not set. Give it a long random value in the environment; "
            "`manage.py demo` makes one of its own."
        )
    return value
