"""Who works, on which days and for how long."""

from datetime import date

from django.contrib.auth.models import AnonymousUser, User
from django.db import transaction

from decor.business.service import the_business
from decor.models import Business, CrewMember
from decor.models.crew import Role

THE_OWNER = "You"


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


def is_helper(user: User | AnonymousUser) -> bool:
    """Whoever sees work and never money."""
    return CrewMember.objects.filter(user_id=user.pk, role=Role.HELPER).exists()
