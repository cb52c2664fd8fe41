"""Which letters a page shows. What is attached is not read for a list."""

from django.db.models import QuerySet

from decor.models import Job, Letter
from decor.models.letter import LetterKind, LetterState

LETTERS_ON_A_JOB = 5


def letters_listed() -> QuerySet[Letter]:
    return Letter.objects.defer("attachment").select_related("job__client", "written_by")


def letters_not_sent() -> QuerySet[Letter]:
    """Those that wait or could not go, the newest first; stopped ones are the owner's wish."""
    return letters_listed().filter(state__in=[LetterState.WAITING, LetterState.FAILED])


def letters_over() -> QuerySet[Letter]:
    return letters_listed().filter(state__in=[LetterState.SENT, LetterState.STOPPED])


def letters_of(job: Job) -> QuerySet[Letter]:
    """To its client; the page says itself what the owner got a notice of."""
    to_client = letters_listed().filter(job=job).exclude(kind=LetterKind.NOTICE)
    return to_client[:LETTERS_ON_A_JOB]


def kinds_sent(job: int) -> dict[str, Letter]:
    """The newest letter of each kind that went to this job's client."""
    sent = letters_listed().filter(job=job, state=LetterState.SENT).order_by("sent_at", "pk")
    return {LetterKind(letter.kind): letter for letter in sent}


def jobs_to_try(most: int) -> list[Job]:
    """Jobs to look at a text with: those with the most to say first."""
    jobs = Job.objects.filter(archived_at=None).select_related("client", "site")
    return list(jobs.order_by("-pk")[:most])
