"""Which details are the same person's. The forms of writing are common practice, no source; the
numbers are from ranges kept for fiction (555-01xx in North America, 07700 900xxx in Britain)."""

import pytest

from decor.clients.keys import (
    email_key,
    looks_like_phone,
    name_key,
    phone_endings,
    phone_key,
    phone_to_dial,
)

SAME = [
    ("+1 (207) 555-0142", "207.555.0142"),
    ("+1 (207) 555-0142", "1-207-555-0142"),
    ("207 555 0142", "555-0142"),
    ("+44 7700 900123", "07700 900123"),
    ("+44 (0)7700 900123", "0044 7700 900123"),
    ("011 44 7700 900123", "07700900123"),
    ("207 555 0142 x12", "207 555 0142"),
    ("+64 21 123 4567", "021 123 4567"),
]
OTHERS = [
    ("207 555 0142", "207 555 0143"),
    ("207 555 0142", "208 555 0142"),
    ("+44 7700 900123", "+44 7700 900124"),
]


def are_the_same(one: str, other: str) -> bool:
    """As likeness.py asks it of the database, in either order."""
    first, second = phone_key(one), phone_key(other)
    return first.endswith(second) or first in phone_endings(second)


@pytest.mark.parametrize(("one", "other"), SAME)
def test_ways_to_write_one_number_meet(one, other):
    assert are_the_same(one, other)
    assert are_the_same(other, one)


@pytest.mark.parametrize(("one", "other"), OTHERS)
def test_two_numbers_stay_two(one, other):
    assert not are_the_same(one, other)


@pytest.mark.parametrize(
    ("text", "is_phone"),
    [
        ("(207) 555-0142", True),
        ("+44 7700 900123", True),
        ("207 555 0142 ext. 4", True),
        ("555-0142", True),
        ("12 Harbour Street", False),
        ("555-014", False),
        ("@quillkettle", False),
        ("1234567890123456789", False),
        ("", False),
    ],
)
def test_only_what_can_be_dialled_looks_like_a_phone_number(text, is_phone):
    assert looks_like_phone(text) is is_phone


def test_a_name_is_the_same_without_capitals_accents_and_extra_spaces():
    assert name_key("  Zoë   BRANNIGAN ") == name_key("zoe brannigan") == "zoe brannigan"


def test_an_email_is_the_same_in_any_capitals():
    assert email_key(" Nell@Lane.Example ") == "nell@lane.example"


@pytest.mark.parametrize(
    ("phone", "dialled"),
    [("+44 (0)7700 900123", "+447700900123"), ("(207) 555-0142 x9", "2075550142")],
)
def test_a_number_is_dialled_without_its_dressing(phone, dialled):
    assert phone_to_dial(phone) == dialled
