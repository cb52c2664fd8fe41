"""What a client answered and asked, for the pages of the quote and of its job."""

from dataclasses import dataclass

from django import template
from django.db.models import QuerySet

from decor.models import Job
from quoting.models import ClientAnswer, ClientLink, ClientQuestion, Quote
from quoting.promise.by_hand import is_to_be_confirmed
from quoting.promise.states import is_promised

register = template.Library()


@dataclass(frozen=True, kw_only=True)
class AnswerShown:
    """`is_waiting`: accepted, and the owner has to confirm it or to talk to the client."""

    answer: ClientAnswer
    is_promised: bool
    is_waiting: bool


@dataclass(frozen=True, kw_only=True)
class ClientSide:
    links: tuple[ClientLink, ...]
    revoked: tuple[ClientLink, ...]
    answers: tuple[AnswerShown, ...]
    questions: tuple[ClientQuestion, ...]


@register.simple_tag
def client_side(quote: Quote) -> ClientSide:
    links = list(quote.client_links.select_related("made_by"))
    return ClientSide(
        links=tuple(link for link in links if link.revoked_at is None),
        revoked=tuple(link for link in links if link.revoked_at),
        answers=_shown(_answers().filter(edition__quote=quote)),
        questions=tuple(quote.questions.order_by("answered_at", "-asked_at")),
    )


@dataclass(frozen=True, kw_only=True)
class JobAnswers:
    answers: tuple[AnswerShown, ...]
    questions: tuple[ClientQuestion, ...]
    answered: tuple[ClientQuestion, ...]


@register.simple_tag
def answers_of_job(job: Job) -> JobAnswers:
    asked = ClientQuestion.objects.filter(quote__job=job)
    questions = list(asked.select_related("quote__job__client"))
    return JobAnswers(
        answers=_shown(_answers().filter(edition__quote__job=job)),
        questions=tuple(one for one in questions if one.answered_at is None),
        answered=tuple(one for one in questions if one.answered_at),
    )


def _answers() -> QuerySet[ClientAnswer]:
    """The latest first; without what is large in an edition."""
    answers = ClientAnswer.objects.select_related("edition__quote__job").order_by("-at", "-pk")
    return answers.defer("edition__pdf", "edition__inputs", "edition__result")


def _shown(answers: QuerySet[ClientAnswer]) -> tuple[AnswerShown, ...]:
    return tuple(
        AnswerShown(
            answer=answer,
            is_promised=is_promised(answer),
            is_waiting=is_to_be_confirmed(answer.edition.quote) == answer,
        )
        for answer in answers
    )
