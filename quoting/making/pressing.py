"""One press of one button on a page without scripts, as what a phone would tell."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.http import QueryDict

from decor.models import Job
from quoting.making.cards import part_key, shared_out
from quoting.making.ticks import Told, counts_of


@dataclass(frozen=True)
class _Part:
    """A share of what was pressed."""

    job: Job
    step: str
    target: int


def pressed(post: QueryDict, jobs: Mapping[int, Job], *, now: datetime) -> list[tuple[Job, Told]]:
    """By job; nothing where the press says nothing that there is."""
    parts = _parts(post.getlist("part"), jobs)
    match post.get("what"):
        case "work" if jobs:
            return [(next(iter(jobs.values())), Told(work=(_clock(post, now),)))]
        case "popped" if parts:
            return [(parts[0].job, Told(popped=({**post.dict(), "step": parts[0].step},)))]
        case "tick" if parts:
            return _ticks(post, parts)
    return []


def _parts(said: Sequence[str], jobs: Mapping[int, Job]) -> list[_Part]:
    """Each is said as `job|step|target`."""
    found = []
    for each in said:
        pk, _, rest = each.partition("|")
        step, _, target = rest.partition("|")
        if pk.isdecimal() and target.isdecimal() and int(pk) in jobs:
            found.append(_Part(jobs[int(pk)], step, int(target)))
    return found


def _ticks(post: QueryDict, parts: Sequence[_Part]) -> list[tuple[Job, Told]]:
    try:
        key, quantity = UUID(post.get("key", "")), int(post.get("quantity", ""))
    except ValueError:
        return []
    counts = {part.job.pk: counts_of(part.job) for part in parts}
    shares = [(part.target, max(0, counts[part.job.pk].get(part.step, 0))) for part in parts]
    return [
        (part.job, Told(ticks=(_tick(part, key, count, post.get("bag")),)))
        for part, count in zip(parts, shared_out(quantity, shares), strict=True)
        if count
    ]


def _tick(part: _Part, key: UUID, quantity: int, bag: str | None) -> dict[str, Any]:
    own_key = str(part_key(key, part.step, part.job.pk))
    return {"key": own_key, "step": part.step, "quantity": quantity, "bag": bag}


def _clock(post: QueryDict, now: datetime) -> dict[str, Any]:
    said = {name: post.get(name, "") for name in ("key", "phase", "people", "visit")}
    started = post.get("started_at") or now.isoformat()
    stopped = now.isoformat() if post.get("press") == "stop" else None
    return {**said, "started_at": started, "stopped_at": stopped}
