import pytest

from decor.clients.likeness import (
    LIKE_NAME,
    SAME_CONTACT,
    SAME_EMAIL,
    SAME_PHONE,
    clients_like,
    clients_twice,
)
from tests.factories import ClientFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def brannigans():
    return ClientFactory(name="Brannigan twins", email="", phone="+1 (207) 555-0177")


@pytest.fixture
def library():
    return ClientFactory(name="Wexcombe Bay Library", email="Reading@WexcombeBay.example", phone="")


def found(name: str = "", contact: str = "") -> list[tuple[str, str]]:
    return [(like.client.name, like.why) for like in clients_like(name=name, contact=contact)]


@pytest.mark.parametrize("typed", ["bra", "branigan", "Brannigan", "BRANNIGAN TWINS", "twins"])
def test_a_name_is_found_from_its_beginning_and_misspelt(brannigans, library, typed):
    assert found(typed) == [("Brannigan twins", LIKE_NAME)]


@pytest.mark.parametrize("typed", ["", "x", "Harrow Hill", "Larkspur Library of Northby"])
def test_a_name_that_is_another_finds_nobody(brannigans, library, typed):
    assert found(typed) == []


def test_the_same_email_is_found_in_any_capitals(brannigans, library):
    assert found(contact="reading@wexcombebay.EXAMPLE") == [("Wexcombe Bay Library", SAME_EMAIL)]


@pytest.mark.parametrize("typed", ["2075550177", "555-0177", "+1 207 555 0177"])
def test_the_same_phone_is_found_however_written(brannigans, library, typed):
    assert found(contact=typed) == [("Brannigan twins", SAME_PHONE)]


def test_the_same_other_contact_is_found():
    ClientFactory(name="Quill & Kettle", email="", phone="", other_contact="@quillkettle")
    assert found(contact="@QuillKettle") == [("Quill & Kettle", SAME_CONTACT)]


def test_the_surest_come_first_and_nobody_twice(brannigans):
    other = ClientFactory(name="Brannigan & Sons", email="shop@brannigan.example", phone="")
    assert found("Brannigan", other.email) == [
        ("Brannigan & Sons", SAME_EMAIL),
        ("Brannigan twins", LIKE_NAME),
    ]


def test_an_archived_client_is_found_too(brannigans, today):
    brannigans.archived_at = "2026-01-01T00:00Z"
    brannigans.save()
    assert found("Brannigan twins") == [("Brannigan twins", LIKE_NAME)]


def test_a_half_typed_email_disturbs_nothing(library):
    assert found(contact="reading@") == []


def test_no_more_than_five_are_shown():
    for number in range(8):
        ClientFactory(name=f"Brannigan {number}", email="", phone=f"207 555 01{number:02}")
    assert len(found("Brannigan")) == 5


def test_two_clients_with_one_phone_are_pointed_out(brannigans, library):
    double = ClientFactory(name="Mrs Brannigan", email="b@brannigan.example", phone="555-0177")
    assert [(like.client, like.why) for like in clients_twice(double)] == [(brannigans, SAME_PHONE)]
    assert clients_twice(library) == []
