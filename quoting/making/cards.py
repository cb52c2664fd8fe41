"""The sheets of one job or of several jobs of a day, merged by colour into cards to count on.

A card is one thing to do, such as 11-inch oat inflated to 6 to 10 in; what jobs do alike is one
card, with the share of each.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID, uuid4, uuid5

from inventory.models import Bag
from quoting.making.bags import ItemBags, bag_words, bags_for
from quoting.making.keys import ItemKey, Work
from quoting.making.sheet import Sheet, ShownSection, ShownStep
from quoting.making.words import Swatch

TENS = 10


@dataclass(frozen=True, kw_only=True)
class Card:
    """`shares` are in the order in which they are counted: what is done first is filled first."""

    anchor: str
    shares: tuple[ShownStep, ...]
    bags: ItemBags | None

    @property
    def title(self) -> str:
        return self.shares[0].title

    @property
    def doing(self) -> str:
        return self.shares[0].doing

    @property
    def seconds(self) -> float:
        return self.shares[0].step.seconds

    @property
    def target(self) -> int:
        return sum(share.step.target for share in self.shares)

    @property
    def count(self) -> int:
        return sum(share.count for share in self.shares)

    @property
    def spare(self) -> int:
        return sum(share.step.spare for share in self.shares)

    @property
    def popped(self) -> int:
        return sum(share.popped for share in self.shares)

    @property
    def is_done(self) -> bool:
        return all(share.is_done for share in self.shares)

    @property
    def is_balloons(self) -> bool:
        return self.shares[0].step.key.item is not None

    @property
    def steps_up(self) -> list[int]:
        """By how many it counts up: one, a cluster's worth, ten."""
        if self.shares[0].step.key.work is Work.BASE:
            ups = {1, _cluster_of(self.shares[0]), TENS}
        else:
            ups = {1, TENS} if self.shares[0].step.inflated_in else {1}
        return sorted(up for up in ups if up == 1 or up <= self.target)

    @property
    def named_shares(self) -> list[tuple[str, ShownStep]]:
        """By job where there are several, by piece where one job has several."""
        several = len({share.job.pk for share in self.shares}) > 1
        return [
            (": ".join(filter(None, [share.job.title if several else "", share.piece])), share)
            for share in self.shares
        ]

    @property
    def parts(self) -> list[dict[str, Any]]:
        """For the script: what a count is shared out to."""
        return [
            {
                "job": share.job.pk,
                "step": share.step.name,
                "target": share.step.target,
                "count": share.count,
            }
            for share in self.shares
        ]

    @property
    def from_words(self) -> str:
        """Bags of one lot in one place are said as one, the open one apart."""
        counts: dict[str, int] = defaultdict(int)
        for each in self.bags.next if self.bags else ():
            counts[bag_words(each.bag) + (" (open)" if each.bag.is_open else "")] += each.quantity
        return ", then ".join(f"{count} from {words}" for words, count in counts.items())

    @property
    def bag(self) -> Bag | None:
        return self.bags.first if self.bags else None

    @property
    def key(self) -> UUID:
        """For a page without scripts: pressing twice on one page counts once."""
        return uuid4()


@dataclass(frozen=True, kw_only=True)
class CardSection:
    anchor: str
    title: str
    swatch: Swatch | None
    how: tuple[str, ...]
    cards: tuple[Card, ...]

    @property
    def is_done(self) -> bool:
        return all(card.is_done for card in self.cards)


def card_sections(sheets: Sequence[Sheet]) -> tuple[CardSection, ...]:
    merged: dict[str, list[tuple[Sheet, ShownSection]]] = defaultdict(list)
    for sheet in sheets:
        for section in sheet.sections:
            merged[section.section.anchor].append((sheet, section))
    bags = _bags(sheets)
    found = [
        CardSection(
            anchor=anchor,
            title=each[0][1].title,
            swatch=each[0][1].swatch,
            how=tuple(_how(each)),
            cards=tuple(_cards(anchor, [section for _, section in each], bags)),
        )
        for anchor, each in merged.items()
    ]
    groups = [anchor for sheet in sheets for anchor in _anchors(sheet)]
    return tuple(sorted(found, key=lambda section: (_group(section), groups.index(section.anchor))))


def _anchors(sheet: Sheet) -> Iterator[str]:
    return (section.section.anchor for section in sheet.sections)


_GROUPS = [str(work) for work in (Work.BASE, Work.ACCENT, Work.STARBURST, Work.SINGLE)]


def _group(section: CardSection) -> int:
    return _GROUPS.index(section.anchor.partition("-")[0])


def _how(merged: Sequence[tuple[Sheet, ShownSection]]) -> Iterator[str]:
    """What is the same for all is said once."""
    said: dict[str, list[str]] = defaultdict(list)
    for sheet, section in merged:
        for how in section.section.how:
            said[how].append(sheet.job.title)
    for how, titles in said.items():
        is_for_all = len(titles) == len(merged)
        yield how if is_for_all else f"{', '.join(titles)}: {how[0].lower()}{how[1:]}"


def _cards(
    anchor: str, sections: Iterable[ShownSection], bags: dict[ItemKey, ItemBags]
) -> Iterator[Card]:
    alike: dict[tuple[Any, ...], list[ShownStep]] = defaultdict(list)
    for section in sections:
        for shown in section.steps:
            step, key = shown.step, shown.step.key
            like = (_ORDER[key.work], key.colour, key.size or 0, step.inflated_in or (), step.of)
            alike[like].append(shown)
    for number, shares in enumerate(each for _, each in sorted(alike.items())):
        yield Card(
            anchor=f"{anchor}-{number}",
            shares=tuple(shares),
            bags=bags.get(shares[0].step.key.item),
        )


_ORDER = {
    work: at
    for at, work in enumerate(
        (
            Work.BASE,
            Work.CLUSTER,
            Work.FILLER,
            Work.MINI,
            Work.ACCENT,
            Work.BUNCH,
            Work.STARBURST,
            Work.SINGLE,
        )
    )
}


def _bags(sheets: Sequence[Sheet]) -> dict[ItemKey, ItemBags]:
    """For all jobs together, so that one bag is not named to two of them."""
    wanted: dict[ItemKey, int] = defaultdict(int)
    for sheet in sheets:
        for key, count in sheet.wanted.items():
            wanted[key] += count
    return bags_for([sheet.job for sheet in sheets], wanted)


def _cluster_of(share: ShownStep) -> int:
    return share.step.piece.estimate.make.cluster_of


def shared_out(quantity: int, shares: Sequence[tuple[int, int]]) -> list[int]:
    """A count over shares of (target, count): up, the first that is not done is filled first, and
    what is beyond all goes to the last; down, the last that has any gives first."""
    if quantity < 0:
        return _taken_back(-quantity, [count for _, count in shares])
    rest, parts = quantity, []
    for target, count in shares:
        parts.append(min(rest, max(0, target - count)))
        rest -= parts[-1]
    parts[-1] += rest
    return parts


def _taken_back(quantity: int, counts: Sequence[int]) -> list[int]:
    parts = []
    for count in reversed(counts):
        parts.append(-min(quantity, max(0, count)))
        quantity += parts[-1]
    return parts[::-1]


def part_key(key: UUID, step: str, job: int) -> UUID:
    """Of one press, for each of its shares."""
    return uuid5(key, f"{job}:{step}")
