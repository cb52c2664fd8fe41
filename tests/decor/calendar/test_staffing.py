"""The search for who can be where, against trying out everything."""

from datetime import date
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decor.calendar import staffing
from decor.calendar.staffing import Stay, Worker, unstaffed

ON = date(2026, 6, 20)


def workers(*minutes: int) -> list[Worker]:
    return [Worker(pk=n, minutes=m, week="1111111") for n, m in enumerate(minutes, start=1)]


def overlap(spans: dict[int, tuple[int, int]]):
    return lambda a, b: spans[a.key][1] <= spans[b.key][0] or spans[b.key][1] <= spans[a.key][0]


def test_a_chain_of_stays_needs_one_person_and_two_at_once_need_two():
    spans = {0: (9, 10), 1: (10, 11), 2: (9, 11)}
    stays = [Stay(key=n, on=ON, minutes=60) for n in spans]
    assert unstaffed(stays[:2], workers(600), overlap(spans)) == 0
    assert unstaffed(stays, workers(600), overlap(spans)) == 1
    assert unstaffed(stays, workers(600, 600), overlap(spans)) == 0
    assert unstaffed(stays, workers(600, 30), overlap(spans)) == 1


def test_twelve_people_and_twelve_stays_are_found_at_once():
    spans = dict.fromkeys(range(12), (9, 10))
    stays = [Stay(key=n, on=ON, minutes=60) for n in spans]
    assert unstaffed(stays, workers(*[600] * 12), overlap(spans)) == 0
    assert unstaffed(stays, workers(*[600] * 11), overlap(spans)) == 1


@st.composite
def days(draw: st.DrawFn):
    spans = {}
    stays = []
    for key in range(draw(st.integers(0, 4))):
        begins = draw(st.integers(8, 14))
        spans[key] = (begins, begins + draw(st.integers(1, 4)))
        named = draw(st.frozensets(st.integers(1, 2), max_size=1))
        minutes = 60 * (spans[key][1] - begins)
        people = draw(st.integers(1, 2))
        stays.append(Stay(key=key, on=ON, minutes=minutes, people=people, named=named))
    given_minutes = draw(st.lists(st.sampled_from([120, 300, 600]), min_size=2, max_size=3))
    return spans, stays, workers(*given_minutes)


@settings(max_examples=150)
@given(days())
def test_it_finds_as_many_as_trying_out_everything(day):
    spans, stays, people = day
    assert unstaffed(stays, people, overlap(spans)) == tried_out(spans, stays, people)


@settings(max_examples=50)
@given(days())
def test_cut_short_it_may_find_too_few_and_never_too_many(day):
    spans, stays, people = day
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(staffing, "MOST_STATES", 3)
        assert unstaffed(stays, people, overlap(spans)) >= tried_out(spans, stays, people)


def tried_out(spans: dict[int, tuple[int, int]], stays: list[Stay], people: list[Worker]) -> int:
    """Each person is at each stay or not: all ways, and the fewest places left empty."""
    together = overlap(spans)
    most = sum(stay.wanted for stay in stays)
    best = 0
    for chosen in product((False, True), repeat=len(stays) * len(people)):
        where = {
            worker.pk: [s for m, s in enumerate(stays) if chosen[n * len(stays) + m]]
            for n, worker in enumerate(people)
        }
        if all(
            is_possible(theirs, w, together)
            for w, theirs in zip(people, where.values(), strict=True)
        ):
            best = max(best, sum(filled(stay, where) for stay in stays))
    return most - best


def is_possible(theirs: list[Stay], worker: Worker, together) -> bool:
    apart = all(together(a, b) for n, a in enumerate(theirs) for b in theirs[:n])
    return apart and sum(stay.minutes for stay in theirs) <= worker.minutes


def filled(stay: Stay, where: dict[int, list[Stay]]) -> int:
    """A place kept for someone is filled by nobody else."""
    there = {pk for pk, theirs in where.items() if stay in theirs}
    others = min(len(there - stay.named), stay.wanted - len(stay.named))
    return len(there & stay.named) + others
