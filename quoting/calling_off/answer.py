"""What calling a job off would cost its client, computed by the terms of the edition they accepted
and shown step by step before anybody confirms it."""

from dataclasses import dataclass
from datetime import date

from decor.display import date_text, money_text, percent_text
from decor.models import Job
from decor.payments.account import Account, account_of
from quoting.calling_off.bands import band_of, band_words
from quoting.estimator import rates_from_dict
from quoting.estimator.money import share_bp
from quoting.estimator.rates import CallingOffBand
from quoting.models import Edition
from quoting.models.client_page import AnswerKind

NOTHING_SAID = "The quote they accepted says nothing of calling off, so nothing is kept by itself"
NO_QUOTE = "Nobody accepted a quote through this app, so nothing is kept by itself"
NO_DAY = "The job has no day, so there is no notice to count: nothing is kept by itself"


@dataclass(frozen=True)
class Step:
    words: str
    amount: str = ""


@dataclass(frozen=True, kw_only=True)
class CallingOff:
    """Whole cents. `kept_cents` is the band's share of what was agreed in all, with its tax,
    rounded half up; never more than that total. What was paid beyond it goes back; what was not
    paid of it is still owed."""

    account: Account
    edition: Edition | None
    on: date
    bands: tuple[CallingOffBand, ...]

    @property
    def job(self) -> Job:
        return self.account.job

    @property
    def notice_days(self) -> int | None:
        return (self.job.event_on - self.on).days if self.job.event_on else None

    @property
    def total_cents(self) -> int:
        return self.account.owed_cents

    @property
    def band(self) -> CallingOffBand | None:
        if self.notice_days is None:
            return None
        return band_of(self.bands, notice_days=self.notice_days)

    @property
    def kept_cents(self) -> int:
        return share_bp(self.total_cents, self.band.keep_bp) if self.band else 0

    @property
    def paid_cents(self) -> int:
        return self.account.paid_cents

    def steps(self, currency: str) -> tuple[Step, ...]:
        return (*self._terms(currency), *settling(self.paid_cents, self.kept_cents, currency))

    def _terms(self, currency: str) -> tuple[Step, ...]:
        total = money_text(self.total_cents, currency)
        agreed = Step("Agreed in all, with tax", total)
        if self.band is None:
            return agreed, Step(self._why_nothing(), money_text(0, currency))
        share = percent_text(self.band.keep_bp)
        return (
            agreed,
            Step(f"From today to {date_text(self.job.event_on)}", notice_text(self.notice_days)),
            Step(
                f"With {band_words(self.bands, self.band)}: {share} of {total} is kept",
                money_text(self.kept_cents, currency),
            ),
        )

    def _why_nothing(self) -> str:
        if self.edition is None:
            return NO_QUOTE
        return NOTHING_SAID if not self.bands else NO_DAY


def calling_off(job: Job, *, on: date) -> CallingOff:
    edition = edition_accepted(job)
    rates = rates_from_dict(edition.inputs["rates"]) if edition else None
    return CallingOff(
        account=account_of(job, today=on),
        edition=edition,
        on=on,
        bands=rates.calling_off if rates else (),
    )


def edition_accepted(job: Job) -> Edition | None:
    """The one that was accepted last."""
    editions = Edition.objects.filter(quote__job=job, answers__kind=AnswerKind.ACCEPTED)
    return editions.defer("pdf").order_by("-answers__at", "-pk").first()


def settling(paid_cents: int, kept_cents: int, currency: str) -> tuple[Step, Step]:
    """What of the money goes which way."""
    paid = Step("Paid so far", money_text(paid_cents, currency))
    if paid_cents >= kept_cents:
        return paid, Step("To give back", money_text(paid_cents - kept_cents, currency))
    return paid, Step("Still owed", money_text(kept_cents - paid_cents, currency))


def notice_text(days: int) -> str:
    if days < 0:
        return "the day has gone"
    if days == 0:
        return "it is today"
    return "1 day" if days == 1 else f"{days} days"
