"""What stands between a quote and its client, each said beside what is wrong."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from decor.display import date_text
from decor.jobs.stages import ENDED_EARLY
from decor.models import Business
from decor.models.job import Stage
from quoting.documents.quote_document import MOST_LINES, TOO_MANY_LINES
from quoting.quotes.combinations import MOST_COMBINATIONS, count_of_combinations
from quoting.quotes.pricing import PricedQuote

NOTHING_ON_IT = "There is nothing on this quote yet: add a piece or an extra line."
NO_EVENT_DATE = "The job has no date yet. Set it on the job first."
EVENT_HAS_PASSED = "The day of the event, {day}, has passed. Change it on the job first."
JOB_IS_ARCHIVED = "The job is archived. Bring it back before you send a quote for it."
JOB_HAS_ENDED = "The job has ended: {stage}. Take it up again before you send a quote for it."
HAS_RUN_OUT = "This quote ran out on {day}. Give it a later day."
RUNS_OUT_AFTER = "This quote would run out after the event, on {day}. Give it an earlier day."
PIECE_IS_BEHIND = (
    "What was typed last is not possible yet, so the garland of before is shown. "
    "Open it and mend what is marked."
)
TOO_MANY_COMBINATIONS = (
    "Your client could choose in {count} ways, and a quote says the price of {most} at most. "
    "Let fewer things have variants."
)
COMES_TO_NOTHING = "The total is nothing. Is the discount right?"
OTHER_CURRENCY = "The rate card is in {card} and the business in {own}: make a new rate card first."


@dataclass(frozen=True)
class SendProblem:
    """`where` names the part of the page: job, pieces, piece-<pk>, conditions, discount, rates.

    `about` is the title of the piece, where it is about one.
    """

    where: str
    message: str
    about: str = ""


def send_problems(
    priced: PricedQuote, *, business: Business, today: date
) -> tuple[SendProblem, ...]:
    return (
        *_job_problems(priced, today),
        *_line_problems(priced),
        *_expiry_problems(priced, today),
        *_money_problems(priced, business),
    )


def _job_problems(priced: PricedQuote, today: date) -> Iterator[SendProblem]:
    job = priced.quote.job
    if job.is_archived:
        yield SendProblem("job", JOB_IS_ARCHIVED)
    if job.stage in ENDED_EARLY:
        stage = Stage(job.stage).label.lower()
        yield SendProblem("job", JOB_HAS_ENDED.format(stage=stage))
    if job.event_on is None:
        yield SendProblem("job", NO_EVENT_DATE)
    elif job.event_on < today:
        yield SendProblem("job", EVENT_HAS_PASSED.format(day=date_text(job.event_on)))


def _line_problems(priced: PricedQuote) -> Iterator[SendProblem]:
    lines = len(priced.pieces) + len(priced.extra_lines)
    if not lines:
        yield SendProblem("pieces", NOTHING_ON_IT)
    if lines > MOST_LINES:
        yield SendProblem("pieces", TOO_MANY_LINES)
    count = count_of_combinations(priced)
    if count > MOST_COMBINATIONS:
        message = TOO_MANY_COMBINATIONS.format(count=count, most=MOST_COMBINATIONS)
        yield SendProblem("pieces", message)
    for piece in (*priced.pieces, *priced.variants):
        problem = piece.problem or (PIECE_IS_BEHIND if piece.piece.spec_is_behind else "")
        if problem:
            yield SendProblem(f"piece-{piece.piece.pk}", problem, about=piece.piece.title)


def _expiry_problems(priced: PricedQuote, today: date) -> Iterator[SendProblem]:
    expires_on, event_on = priced.quote.expires_on, priced.quote.job.event_on
    if expires_on < today:
        yield SendProblem("conditions", HAS_RUN_OUT.format(day=date_text(expires_on)))
    elif event_on and event_on >= today and expires_on > event_on:
        yield SendProblem("conditions", RUNS_OUT_AFTER.format(day=date_text(expires_on)))


def _money_problems(priced: PricedQuote, business: Business) -> Iterator[SendProblem]:
    has_lines = any(piece.estimate for piece in priced.pieces) or priced.extra_lines
    if has_lines and priced.price.total_cents <= 0:
        yield SendProblem("discount", COMES_TO_NOTHING)
    if priced.rates.currency != business.currency:
        message = OTHER_CURRENCY.format(card=priced.rates.currency, own=business.currency)
        yield SendProblem("rates", message)
