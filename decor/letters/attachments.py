"""What goes with a kind of letter, from the room that makes it."""

from collections.abc import Callable
from dataclasses import dataclass

from decor.models import Job


@dataclass(frozen=True)
class Attachment:
    name: str
    content_type: str
    content: bytes


@dataclass(frozen=True)
class Offer:
    """What can go with a letter. It is made only when the letter goes: a PDF takes its time."""

    name: str
    content_type: str
    make: Callable[[], bytes]

    def made(self) -> Attachment:
        return Attachment(self.name, self.content_type, self.make())


Provider = Callable[[Job], Offer | None]
_providers: dict[str, Provider] = {}


def register(kind: str, provider: Provider) -> None:
    _providers[kind] = provider


def offer_for(kind: str, job: Job) -> Offer | None:
    provider = _providers.get(kind)
    return provider(job) if provider else None
