"""The owner is told at once, by a letter to themselves, what a client did on their page."""

from datetime import datetime

from django.conf import settings
from django.urls import reverse

from decor.display import money_text
from decor.letters.service import letter_notice
from decor.letters.texts import Words
from decor.models import Job
from quoting.models import ClientAnswer, ClientQuestion
from quoting.models.client_page import AnswerKind, Outcome

ACCEPTED = "{client} accepted quote {quote}"
DECLINED = "{client} declined quote {quote}"
ASKED = "{client} asks about quote {quote}"
TO_BUY_TOO = "{client} accepted quote {quote}: something is to be bought"
TO_DO_TOO = "{client} accepted quote {quote}: confirm within a day"
BY = "Accepted by {name}, for {total} in all."
COMES = {
    Outcome.HELD: "It is promised: what it takes is held for it.",
    Outcome.TO_BUY: "It is promised, and what was short is on your buy list.",
    Outcome.TO_CONFIRM: "Nothing is promised yet. They were told that you confirm within a day.",
    Outcome.TIME_TAKEN: (
        "Nothing is promised: its time was taken before them. They were told that you get in "
        "touch within a day."
    ),
}
SUBJECTS = {
    Outcome.HELD: ACCEPTED,
    Outcome.TO_BUY: TO_BUY_TOO,
    Outcome.TO_CONFIRM: TO_DO_TOO,
    Outcome.TIME_TAKEN: TO_DO_TOO,
}


def answer_tell(answer: ClientAnswer, *, now: datetime) -> None:
    job = answer.edition.quote.job
    if answer.kind == AnswerKind.ACCEPTED:
        outcome = Outcome(answer.outcome)
        total = money_text(answer.total_cents, answer.edition.currency)
        by = BY.format(name=answer.typed_name, total=total)
        subject, said = SUBJECTS[outcome], [by, COMES[outcome], answer.note]
    else:
        subject, said = DECLINED, [answer.reason]
    subject = subject.format(client=job.client.name, quote=answer.edition.quote.number)
    _tell(job, subject, said, now, entry_key=f"notice-answer-{answer.pk}")


def question_tell(question: ClientQuestion, *, now: datetime) -> None:
    job = question.quote.job
    subject = ASKED.format(client=job.client.name, quote=question.quote.number)
    _tell(job, subject, [question.text], now, entry_key=f"notice-question-{question.pk}")


def _tell(job: Job, subject: str, said: list[str], now: datetime, *, entry_key: str) -> None:
    """Braces are no fields here: the outbox would fill in a secret where a client typed one."""
    address = f"{settings.SITE_URL}{reverse('job_detail', args=[job.pk])}"
    body = "\n\n".join(filter(None, [f"{job.title}:", *said, address]))
    words = Words(subject, body.replace("{", "(").replace("}", ")"))
    letter_notice(job=job, words=words, now=now, entry_key=entry_key)
