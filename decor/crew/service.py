"""Who works, on which days and for how long."""

from datetime import date, datetime

from django.db import transaction

from decor.business.service import the_business
from decor.models import Business, CrewMember
from decor.models.crew import Role

THE_OWNER = "You"
OWNER_STAYS = "The owner is always of the crew."
ARCHIVED_ALREADY = "They are archived already."


class CrewRefused(Exception):
    """The message is for the owner to read."""


def crew_at_work() -> list[CrewMember]:
    """All who are not archived, the owner first: there is always one."""
    crew = list(CrewMember.objects.filter(archived_at=None))
    if not any(member.role == Role.OWNER for member in crew):
        crew.insert(0, owner_joins())
    return crew


@transaction.atomic
def owner_joins() -> CrewMember:
    """The owner is of the crew from the start. The business is locked so that there is one."""
    Business.objects.select_for_update(no_key=True).filter(pk=Business.THE_ONE).first()
    known = CrewMember.objects.filter(role=Role.OWNER, archived_at=None).first()
    business = the_business()
    name = (business.owner_name if business else "") or THE_OWNER
    return known or CrewMember.objects.create(name=name, role=Role.OWNER)


def works_on(member: CrewMember, day: date) -> bool:
    return member.week[day.weekday()] == "1"


def crew_archive(*, member: CrewMember, now: datetime) -> None:
    """Whoever has left: kept, as what they did names them. The owner stays."""
    helpers = CrewMember.objects.filter(pk=member.pk, role=Role.HELPER, archived_at=None)
    if not helpers.update(archived_at=now):
        raise CrewRefused(OWNER_STAYS if member.role == Role.OWNER else ARCHIVED_ALREADY)


def crew_bring_back(*, member: CrewMember) -> None:
    CrewMember.objects.filter(pk=member.pk).update(archived_at=None)
