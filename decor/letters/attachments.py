"""What goes with a kind of letter, from the room that makes it."""

from collections.abc import Callable
from dataclasses import dataclass

from decor.models import Job


@dataclass(frozen=True)
class Attachment:
    name: str
    content_type: str
    content: bytes


Provider = Callable[[Job], Attachment | None]
_providers: dict[str, Provider] = {}


def register(kind: str, provider: Provider) -> None:
    _providers[kind] = provider


def attachment_for(kind: str, job: Job) -> Attachment | None:
    provider = _providers.get(kind)
    return provider(job) if provider else None
