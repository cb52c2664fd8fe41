"""A helper's login: made by the owner with a password for once, put off and on again."""

import secrets

from django.contrib.auth import get_user_model
from django.contrib.auth.models import User
from django.db import transaction

from decor.models import CrewMember
from decor.models.crew import Role

# Without letters and figures that are taken for one another when read out.
LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
GROUPS, IN_A_GROUP = 4, 4  # 31 letters, 16 of them: 79 bits
OWNER_HAS_ONE = "The owner's own login is made with createsuperuser, not here."
HAS_ONE = "{name} has a login already."
HAS_NONE = "{name} has no login yet."
ARCHIVED = "{name} is archived. Bring {name} back first."
NAME_IS_TAKEN = "Another login has this name."


class LoginRefused(Exception):
    """The message is for the owner to read. Nothing was changed."""


def password_for_once() -> str:
    """Such as `h4mq-txnp-w7dk-e9rf`."""
    letters = [secrets.choice(LETTERS) for _ in range(GROUPS * IN_A_GROUP)]
    groups = [letters[at : at + IN_A_GROUP] for at in range(0, len(letters), IN_A_GROUP)]
    return "-".join("".join(group) for group in groups)


@transaction.atomic
def login_make(*, member: CrewMember, username: str) -> str:
    """The password for once, which is kept nowhere: whoever logs in with it sets their own."""
    locked = _helper(member)
    if locked.user_id:
        raise LoginRefused(HAS_ONE.format(name=locked))
    if name_is_taken(username):
        raise LoginRefused(NAME_IS_TAKEN)
    password = password_for_once()
    user = get_user_model().objects.create_user(username=username, password=password)
    CrewMember.objects.filter(pk=locked.pk).update(user=user, password_is_given=True)
    return password


@transaction.atomic
def login_renew(*, member: CrewMember) -> str:
    """Another password for once, also for a login that was put off. Whoever is logged in with the
    old one is logged out by it."""
    locked = _helper(member)
    if not locked.user_id:
        raise LoginRefused(HAS_NONE.format(name=locked))
    password = password_for_once()
    user = locked.user
    user.set_password(password)
    user.is_active = True
    user.save(update_fields=["password", "is_active"])
    CrewMember.objects.filter(pk=locked.pk).update(password_is_given=True)
    return password


@transaction.atomic
def login_put_off(*, member: CrewMember) -> None:
    """From now on it opens nothing, also where it is logged in."""
    locked = _locked(member)
    if not locked.user_id:
        raise LoginRefused(HAS_NONE.format(name=locked))
    if locked.role == Role.OWNER:
        raise LoginRefused(OWNER_HAS_ONE)
    get_user_model().objects.filter(pk=locked.user_id).update(is_active=False)


def password_is_own(user: User) -> None:
    """The password for once was exchanged."""
    CrewMember.objects.filter(user=user).update(password_is_given=False)


def name_is_taken(username: str) -> bool:
    return get_user_model().objects.filter(username__iexact=username).exists()


def _helper(member: CrewMember) -> CrewMember:
    locked = _locked(member)
    if locked.role == Role.OWNER:
        raise LoginRefused(OWNER_HAS_ONE)
    if locked.archived_at:
        raise LoginRefused(ARCHIVED.format(name=locked))
    return locked


def _locked(member: CrewMember) -> CrewMember:
    return CrewMember.objects.select_for_update(no_key=True).get(pk=member.pk)
