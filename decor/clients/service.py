"""Clients and their places: made, added to, put away, found."""

from datetime import datetime

from django.db import transaction
from django.db.models import Count, Q, QuerySet

from decor.clients.contacts import Contact
from decor.clients.keys import email_key, name_key, phone_key
from decor.models import Client, Site

ALSO_REACHED = "Also reached at {contact}"
PLACE_TO_BE_SETTLED = "Place to be settled"
PHONE_DIGITS_TO_SEARCH = 4  # fewer would find nearly everyone


def client_add(*, name: str, contact: Contact) -> Client:
    client = Client(
        name=name, email=contact.email, phone=contact.phone, other_contact=contact.other
    )
    client.full_clean()
    client.save()
    return client


def client_asks_again(*, client: Client, contact: Contact) -> None:
    """Brings an archived client back, and keeps a way to reach them that was not known."""
    client.archived_at = None
    if contact.email and email_key(contact.email) != client.email_key:
        _also_reached(client, "email", contact.email)
    if contact.phone and phone_key(contact.phone) != client.phone_key:
        _also_reached(client, "phone", contact.phone)
    if contact.other and contact.other.casefold() != client.other_contact.casefold():
        _also_reached(client, "other_contact", contact.other)
    client.save()


def _also_reached(client: Client, field: str, contact: str) -> None:
    """What is known already is not overwritten: the new one goes to the note."""
    if not getattr(client, field):
        setattr(client, field, contact)
        return
    line = ALSO_REACHED.format(contact=contact)
    if line not in client.note:
        client.note = f"{client.note}\n{line}".strip()


def client_archive(*, client: Client, now: datetime) -> None:
    Client.objects.filter(pk=client.pk, archived_at=None).update(archived_at=now)


def client_bring_back(*, client: Client) -> None:
    Client.objects.filter(pk=client.pk).update(archived_at=None)


@transaction.atomic
def site_at(*, client: Client, name: str, is_outdoor: bool) -> Site | None:
    """The client's place of that name, made if there is none yet; nothing said is no place."""
    if not name and not is_outdoor:
        return None
    name = name or PLACE_TO_BE_SETTLED
    known = client.sites.filter(name__iexact=name, is_outdoor=is_outdoor).first()
    return known or Site.objects.create(client=client, name=name, is_outdoor=is_outdoor)


def clients_found(*, search: str, is_archived: bool) -> QuerySet[Client]:
    """With `job_count`, by name. Each word searched for must be somewhere in a client's details."""
    clients = Client.objects.filter(archived_at__isnull=not is_archived)
    found = clients.filter(client_matches(search))
    return found.annotate(job_count=Count("jobs")).order_by("name_key", "pk")


def client_matches(search: str, *, prefix: str = "") -> Q:
    """`prefix` is the way from another table to the client, such as `client__`."""
    matches = Q()
    for word in search.split():
        matches &= _word_matches(word, prefix)
    digits = phone_key(search)
    if len(digits) >= PHONE_DIGITS_TO_SEARCH:
        matches |= Q(**{f"{prefix}phone_key__contains": digits})
    return matches


def _word_matches(word: str, prefix: str) -> Q:
    return (
        Q(**{f"{prefix}name_key__contains": name_key(word)})
        | Q(**{f"{prefix}email_key__contains": email_key(word)})
        | Q(**{f"{prefix}phone__contains": word})
        | Q(**{f"{prefix}other_contact__icontains": word})
    )
