"""Finding a client again instead of making a second one."""

from dataclasses import dataclass
from difflib import SequenceMatcher

from django.core.exceptions import ValidationError
from django.db.models import Q, QuerySet

from decor.clients.contacts import Contact, contact_from_text
from decor.clients.keys import email_key, name_key, phone_endings, phone_key
from decor.models import Client

SAME_EMAIL = "the same email"
SAME_PHONE = "the same phone"
SAME_CONTACT = "the same contact"
LIKE_NAME = "a name like it"

# Names score at least this much of 1 to be shown. Chosen by eye: it keeps "Branigan twins" for
# "Brannigan twins" and drops names that only share a word such as "library".
NAME_IS_LIKE = 0.6
WORD_MIN = 3  # letters; shorter words ("the", initials) match too much
CANDIDATES = 200


@dataclass(frozen=True)
class LikeClient:
    client: Client
    why: str

    @property
    def is_certain(self) -> bool:
        return self.why != LIKE_NAME


def clients_like(*, name: str, contact: str, limit: int = 5) -> list[LikeClient]:
    """Clients who may be the person typed so far, surest first; archived ones too."""
    certain = clients_reached_by(contact)
    known = {like.client.pk for like in certain}
    named = [like for like in _clients_named_like(name) if like.client.pk not in known]
    return [*certain, *named][:limit]


def clients_reached_by(contact: str) -> list[LikeClient]:
    """Clients with this very email, phone or other contact."""
    try:
        way = contact_from_text(contact)
    except ValidationError:  # half-typed
        return []
    reached, why = _reached_by(way)
    return [LikeClient(client, why) for client in reached]


def _reached_by(way: Contact) -> tuple[QuerySet[Client], str]:
    if way.email:
        return Client.objects.filter(email_key=email_key(way.email)), SAME_EMAIL
    if way.phone:
        key = phone_key(way.phone)
        same = Q(phone_key__endswith=key) | Q(phone_key__in=phone_endings(key))
        return Client.objects.filter(same), SAME_PHONE
    if way.other:
        return Client.objects.filter(other_contact__iexact=way.other), SAME_CONTACT
    return Client.objects.none(), ""


def _clients_named_like(name: str) -> list[LikeClient]:
    key = name_key(name)
    found = Client.objects.filter(_shares_a_beginning(key))[:CANDIDATES] if key else []
    scored = [(_likeness(key, client.name_key), client) for client in found]
    scored = [pair for pair in scored if pair[0] >= NAME_IS_LIKE]
    scored.sort(key=lambda pair: (-pair[0], pair[1].name_key, pair[1].pk))
    return [LikeClient(client, LIKE_NAME) for _, client in scored]


def _shares_a_beginning(key: str) -> Q:
    """Some word of the stored name begins as some typed word does."""
    beginnings = {word[:WORD_MIN] for word in key.split() if len(word) >= WORD_MIN}
    shared = Q(name_key__startswith=key)
    for beginning in beginnings:
        shared |= Q(name_key__startswith=beginning) | Q(name_key__contains=f" {beginning}")
    return shared


def _likeness(typed: str, stored: str) -> float:
    """A half-typed name counts as much as a whole one, from any of its words on."""
    words = stored.split()
    tails = [" ".join(words[at:]) for at in range(len(words))]
    forms = {stored, *(tail[: len(typed)] for tail in tails)}
    return max(SequenceMatcher(None, typed, form).ratio() for form in forms)


def clients_twice(client: Client) -> list[LikeClient]:
    """Other clients who are reached in the same way: perhaps the same person taken down twice."""
    ways = [Contact(email=client.email), Contact(phone=client.phone)]
    found = {}
    for way in ways:
        others, why = _reached_by(way)
        for other in others.exclude(pk=client.pk):
            found.setdefault(other.pk, LikeClient(other, why))
    return list(found.values())
