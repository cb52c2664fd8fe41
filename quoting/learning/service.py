"""What finished jobs say of the rates: proposed, never applied by itself."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from django.contrib.auth.models import User
from django.db import transaction

from quoting.estimator import Rates
from quoting.estimator.learning import (
    FillLearning,
    PhaseLearning,
    Proposal,
    learn_fill,
    learn_loss,
    learn_times,
    rates_with,
)
from quoting.learning.observing import (
    Seen,
    card_value,
    fills_seen,
    look_backs_closed,
    losses_seen,
    times_seen,
)
from quoting.models import LookBack, RateCard
from quoting.rate_cards.service import current_rate_card, rate_card_change

ADOPTED = "Learned from {jobs}: {names}"
BACK = "Back to the rates of card {version}"
LONGEST_NOTE = RateCard._meta.get_field("note").max_length
NOTHING_TO_ADOPT = "None of these is proposed any more: look at what the jobs say now."
NO_CARD_BEFORE = "There is no card before this one."


class LearningRefused(Exception):
    """The message is for the owner to read. Nothing was changed."""


@dataclass(frozen=True)
class Group:
    """Numbers that are adopted together. `key` is the kind of work, or the number's own name."""

    key: str
    proposals: tuple[Proposal, ...]


@dataclass(frozen=True, kw_only=True)
class Learned:
    """All that the jobs say of the card in use."""

    card: RateCard
    rates: Rates
    seen: tuple[Seen, ...]
    phases: tuple[PhaseLearning, ...]
    fill: FillLearning | None
    losses: tuple[Proposal, ...]

    @property
    def groups(self) -> tuple[Group, ...]:
        """What is worth adopting. The times of one kind of work go together: later jobs are held
        against the card as if they had."""
        times = [Group(phase.phase, _worth(phase.proposals)) for phase in self.phases]
        fill = [self.fill.proposal] if self.fill else []
        others = [Group(each.name, _worth([each])) for each in (*fill, *self.losses)]
        return tuple(group for group in (*times, *others) if group.proposals)


def _worth(proposals: Iterable[Proposal]) -> tuple[Proposal, ...]:
    return tuple(each for each in proposals if each.is_worth_adopting)


def learned(*, today: date) -> Learned:
    card = current_rate_card(on=today)
    rates, seen = card.as_rates(), tuple(look_backs_closed())
    by_loss = losses_seen(seen)
    losses = (
        learn_loss(name, by_loss[name], card=card_value(name, rates))
        for name in ("loss_latex", "loss_large", "loss_foil")
        if name in by_loss
    )
    return Learned(
        card=card,
        rates=rates,
        seen=seen,
        phases=learn_times(times_seen(seen, rates.unit_times), rates.unit_times),
        fill=learn_fill(fills_seen(seen), card=rates.fill),
        losses=tuple(each for each in losses if each is not None),
    )


@transaction.atomic
def proposals_adopt(
    *, keys: Iterable[str], labels: Mapping[str, str], by: User | None, today: date
) -> RateCard:
    """A new version of the card with what is still proposed of those groups."""
    found, wanted = learned(today=today), set(keys)
    chosen = [each for group in found.groups if group.key in wanted for each in group.proposals]
    if not chosen:
        raise LearningRefused(NOTHING_TO_ADOPT)
    jobs = max(each.jobs for each in chosen)
    said = ", ".join(labels.get(each.name, each.name) for each in chosen)
    note = ADOPTED.format(jobs="one job" if jobs == 1 else f"{jobs} jobs", names=said)
    return rate_card_change(
        rates=rates_with(found.rates, {each.name: each.learned for each in chosen}),
        terms=found.card.terms,
        starts_on=today,
        note=note if len(note) <= LONGEST_NOTE else note[: LONGEST_NOTE - 1] + "…",
        by=by,
    )


@transaction.atomic
def card_back(*, by: User | None, today: date) -> RateCard:
    """The numbers of the card before the one in use hold again, as a version of their own."""
    card = current_rate_card(on=today)
    before = RateCard.objects.filter(version__lt=card.version).order_by("-version").first()
    if before is None:
        raise LearningRefused(NO_CARD_BEFORE)
    return rate_card_change(
        rates=before.as_rates(),
        terms=before.terms,
        starts_on=today,
        note=BACK.format(version=before.version),
        by=by,
    )


@transaction.atomic
def phase_leave_out(*, look_back: LookBack, phase: str, is_left_out: bool) -> None:
    """Of a closed look-back too: it says nothing of what happened, only of what to learn from."""
    locked = LookBack.objects.select_for_update(no_key=True).get(pk=look_back.pk)
    others = [each for each in locked.left_out if each != phase]
    locked.left_out = [*others, phase] if is_left_out else others
    locked.save(update_fields=["left_out"])
