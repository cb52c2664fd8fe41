"""Proposals in the words of the rate card."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from decor.display import length_text, percent_text
from quoting.estimator import example_rates, rates_to_dict
from quoting.estimator.learning import FillLearning, PhaseLearning, Proposal, rates_with
from quoting.learning.observing import Seen, card_value
from quoting.learning.service import Learned
from quoting.rate_cards.folds import every_line
from quoting.rate_cards.lines import RateLine
from quoting.rate_cards.measures import Showing

IN_TIMES = "unit_times."


def lines_by_name() -> dict[str, RateLine]:
    """The card's lines by the bare name of their number."""
    return {line.name.removeprefix(IN_TIMES): line for line in every_line()}


def labels_by_name() -> dict[str, str]:
    return {name: line.label for name, line in lines_by_name().items()}


@dataclass(frozen=True, kw_only=True)
class ProposalRow:
    """`learned` stands between `low` and `high`, all as the card writes them. `is_own`: the card's
    number is no longer the one that everybody begins with."""

    proposal: Proposal
    label: str
    card: str
    is_own: bool
    learned: str
    low: str
    high: str

    @property
    def jobs(self) -> str:
        count = self.proposal.jobs
        return "one job" if count == 1 else f"{count} jobs"


@dataclass(frozen=True, kw_only=True)
class SeenRow:
    """What one job says of a phase. `times` is how many times as long as the card has it."""

    seen: Seen
    times: str
    is_apart: bool
    is_left_out: bool


@dataclass(frozen=True, kw_only=True)
class GroupRows:
    """What one tick adopts."""

    key: str
    rows: tuple[ProposalRow, ...]

    @property
    def jobs(self) -> str:
        return self.rows[0].jobs


@dataclass(frozen=True, kw_only=True)
class BandRow:
    """Fill as shares of the space, for garlands about as wide as said."""

    said: str
    pieces: int
    fill: str
    low: str
    high: str


@dataclass(frozen=True, kw_only=True)
class PhaseRows:
    phase: str
    rows: tuple[ProposalRow, ...]
    jobs: tuple[SeenRow, ...]


class InWords:
    def __init__(self, learned: Learned, showing: Showing) -> None:
        self.learned, self.showing = learned, showing
        self.lines = lines_by_name()
        self.usual = example_rates()
        self.seen = {each.name: each for each in learned.seen}

    def row(self, proposal: Proposal) -> ProposalRow:
        line = self.lines[proposal.name]
        said = [
            line.text(self._as_card(proposal.name, value), self.showing)
            for value in (proposal.card, proposal.learned, proposal.low, proposal.high)
        ]
        return ProposalRow(
            proposal=proposal,
            label=line.label,
            card=said[0],
            is_own=proposal.card != card_value(proposal.name, self.usual),
            learned=said[1],
            low=said[2],
            high=said[3],
        )

    def phase(self, learning: PhaseLearning) -> PhaseRows:
        apart = {each.job for each in learning.apart}
        return PhaseRows(
            phase=learning.phase,
            rows=tuple(self.row(each) for each in learning.proposals),
            jobs=tuple(
                SeenRow(
                    seen=self.seen[each.job],
                    times=f"{each.ratio:.2f}",
                    is_apart=each.job in apart,
                    is_left_out=each.is_left_out,
                )
                for each in learning.observations
            ),
        )

    def bands(self, fill: FillLearning) -> tuple[BandRow, ...]:
        return tuple(
            BandRow(
                said=length_text(band.width_m, self.showing.units),
                pieces=band.pieces,
                fill=_share(band.fill),
                low=_share(band.low),
                high=_share(band.high),
            )
            for band in fill.bands
        )

    def _as_card(self, name: str, value: float) -> Mapping[str, Any]:
        return rates_to_dict(rates_with(self.learned.rates, {name: value}))

    @cached_property
    def groups(self) -> tuple[GroupRows, ...]:
        return tuple(
            GroupRows(key=group.key, rows=tuple(self.row(each) for each in group.proposals))
            for group in self.learned.groups
        )


def _share(share: float) -> str:
    return percent_text(round(share * 1000) * 10)
