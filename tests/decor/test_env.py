import pytest
from django.core.exceptions import ImproperlyConfigured

from decor import env


@pytest.mark.parametrize(
    ("value", "meaning"), [("yes", True), ("1", True), ("TRUE", True), ("no", False), ("", False)]
)
def test_a_flag_is_read_in_plain_words(monkeypatch, value, meaning):
    monkeypatch.setenv("A_FLAG", value)
    assert env.flag("A_FLAG") is meaning


def test_an_unset_flag_is_its_default():
    assert env.flag("NEVER_SET_FLAG") is False


def test_a_flag_that_is_neither_names_itself(monkeypatch):
    monkeypatch.setenv("A_FLAG", "perhaps")
    with pytest.raises(ImproperlyConfigured, match="A_FLAG must be yes or no"):
        env.flag("A_FLAG")


def test_a_number_that_is_none_names_itself(monkeypatch):
    monkeypatch.setenv("A_NUMBER", "two")
    with pytest.raises(ImproperlyConfigured, match="A_NUMBER must be a whole number"):
        env.number("A_NUMBER", 0)


def test_a_missing_secret_names_itself(monkeypatch):
    monkeypatch.delenv("A_SECRET", raising=False)
    with pytest.raises(ImproperlyConfigured, match="A_SECRET is not set"):
        env.secret("A_SECRET")
