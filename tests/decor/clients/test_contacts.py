import pytest
from django.core.exceptions import ValidationError

from decor.clients.contacts import EMAIL_IS_INCOMPLETE, Contact, contact_from_text


@pytest.mark.parametrize(
    ("text", "contact"),
    [
        (" nell@lane.example ", Contact(email="nell@lane.example")),
        ("(207) 555-0142", Contact(phone="(207) 555-0142")),
        ("@quillkettle", Contact(other="@quillkettle")),
        ("through her sister, Tuesdays", Contact(other="through her sister, Tuesdays")),
        ("write to nell@lane.example", Contact(other="write to nell@lane.example")),
        ("", Contact()),
    ],
)
def test_one_line_is_told_apart(text, contact):
    assert contact_from_text(text) == contact


@pytest.mark.parametrize("text", ["nell@", "nell@lane", "nell@lane..example", "nell@.example"])
def test_a_half_written_email_is_not_taken_for_something_else(text):
    with pytest.raises(ValidationError) as refused:
        contact_from_text(text)
    assert refused.value.messages == [EMAIL_IS_INCOMPLETE]
