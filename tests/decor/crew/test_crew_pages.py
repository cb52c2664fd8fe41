import pytest
from django.urls import reverse

from decor.crew.service import OWNER_STAYS, crew_at_work
from decor.crew.words import week_text
from decor.models import CrewMember
from decor.models.crew import Role

SAID = {
    "name": "Tomas",
    "phone": "(207) 555-0199",
    "making_minutes_a_day": "6.5",
    "install_minutes_a_day": "8",
    "days": ["0", "1", "2", "3", "4"],
}


def test_the_owner_is_of_the_crew_from_the_start_and_only_once(owner_client):
    for _ in range(2):
        assert "Nell Okafor-Hart" in owner_client.get(reverse("crew_list")).text
    assert CrewMember.objects.get().role == Role.OWNER


def test_someone_is_added_changed_archived_and_brought_back(owner_client):
    assert owner_client.post(reverse("crew_new"), SAID).url == reverse("crew_list")
    tomas = CrewMember.objects.get(name="Tomas")
    assert (tomas.role, tomas.week) == (Role.HELPER, "1111100")
    assert (tomas.making_minutes_a_day, tomas.install_minutes_a_day) == (390, 480)
    page = owner_client.get(reverse("crew_list")).text
    assert "6 h 30 min a day" in page
    assert "Mon to Fri" in page
    edit = reverse("crew_edit", args=[tomas.pk])
    form = owner_client.get(edit).context["form"]
    assert form["making_minutes_a_day"].value() == "6.5"
    assert form["days"].value() == SAID["days"]
    owner_client.post(edit, {**SAID, "days": ["5"]})
    assert CrewMember.objects.get(pk=tomas.pk).week == "0000010"
    owner_client.post(reverse("crew_archive", args=[tomas.pk]))
    assert [member.role for member in crew_at_work()] == [Role.OWNER]
    owner_client.post(reverse("crew_bring_back", args=[tomas.pk]))
    assert len(crew_at_work()) == 2


@pytest.mark.parametrize(
    ("change", "field", "words"),
    [
        ({"name": " "}, "name", "required"),
        ({"name": "nell okafor-hart"}, "name", "has this name"),
        ({"making_minutes_a_day": "25"}, "making_minutes_a_day", "less than or equal to 24"),
        ({"making_minutes_a_day": "-1"}, "making_minutes_a_day", "greater than or equal to 0"),
        ({"install_minutes_a_day": "NaN"}, "install_minutes_a_day", "a number"),
        ({"days": ["7"]}, "days", "valid choice"),
    ],
)
def test_a_mistake_is_said_beside_its_field(owner_client, change, field, words):
    crew_at_work()
    reply = owner_client.post(reverse("crew_new"), {**SAID, **change})
    assert reply.status_code == 422
    assert words in reply.context["form"].errors[field][0]
    assert SAID["phone"] in reply.text
    assert CrewMember.objects.count() == 1


def test_the_owner_stays(owner_client):
    owner = crew_at_work()[0]
    reply = owner_client.post(reverse("crew_archive", args=[owner.pk]), follow=True)
    assert OWNER_STAYS in reply.text


@pytest.mark.parametrize(
    ("week", "words"),
    [
        ("1111111", "Every day"),
        ("0000000", "No day"),
        ("1111100", "Mon to Fri"),
        ("1010001", "Mon, Wed, Sun"),
        ("0110011", "Tue, Wed, Sat, Sun"),
    ],
)
def test_a_week_is_said_in_words(week, words):
    assert week_text(week) == words
