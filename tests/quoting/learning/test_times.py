from dataclasses import replace
from math import log

import pytest

from quoting.estimator import (
    Estimate,
    OrderConditions,
    UnitTimes,
    estimate,
    example_rates,
    spec_from_dict,
)
from quoting.estimator.learning import (
    TIMES_OF_PHASE,
    Observation,
    PhaseLearning,
    learn_times,
    observations_of,
    rates_with,
)
from quoting.estimator.learning.proposal import (
    ADOPT,
    AT_LIMIT,
    ONLY_APART,
    SMALL,
    TOO_FEW,
    WITHIN,
)
from tests.quoting.estimator.garlands import garland

CARD = UnitTimes()
TYING = "inflate and tie"
# Near enough alike to be sure of, and not so alike as no jobs are.
AROUND = (0.94, 1.0, 1.06)


def jobs(
    count: int, ratio: float, *, phase: str = TYING, name: str = "job", **more: bool
) -> list[Observation]:
    return [
        Observation(
            job=f"{name} {at}",
            phase=phase,
            expected_s=3600,
            actual_s=3600 * ratio * AROUND[at % len(AROUND)],
            **more,
        )
        for at in range(count)
    ]


def learned(observations: list[Observation], card: UnitTimes = CARD) -> PhaseLearning:
    (found,) = learn_times(observations, card)
    return found


def way_gone(count: int) -> float:
    """From the card to what all of the jobs say, as a share of the logarithm."""
    same = [replace(o, actual_s=o.expected_s * 1.5) for o in jobs(count, 1)]
    return log(learned(same).factor.factor) / log(1.5)


def test_three_jobs_move_it_a_little_and_thirty_a_lot() -> None:
    assert way_gone(3) == pytest.approx(3 / 7)
    assert way_gone(30) == pytest.approx(15 / 17)


def test_the_range_narrows_as_jobs_come_in() -> None:
    few, many = learned(jobs(3, 1.2)).factor, learned(jobs(30, 1.2)).factor

    assert few.low < few.factor < few.high
    assert many.high / many.low < few.high / few.low


def test_jobs_that_differ_more_are_believed_less() -> None:
    alike = learned(jobs(9, 1.2)).factor
    wild = [
        replace(o, actual_s=o.actual_s * (0.7, 1, 1 / 0.7)[at % 3])
        for at, o in enumerate(jobs(9, 1.2))
    ]

    assert learned(wild).factor.high / learned(wild).factor.low > alike.high / alike.low


def test_all_sizes_of_a_phase_move_together() -> None:
    found = learned(jobs(30, 1.2))

    assert set(found.changes) == {"inflate_5_s", "inflate_11_s", "inflate_17_s"}
    for proposal in found.proposals:
        assert proposal.learned == pytest.approx(proposal.card * found.factor.factor, abs=0.05)
        assert proposal.low < proposal.learned < proposal.high
        assert (proposal.jobs, proposal.why) == (30, ADOPT)


@pytest.mark.parametrize("phase", [phase for phase in TIMES_OF_PHASE if phase != "check and fill"])
def test_what_is_adopted_changes_the_hours_of_its_phase_by_the_factor(phase: str) -> None:
    """But for the rounding of each time to a tenth of a second: half of it on 9 s is 0.6 %."""
    spec = spec_from_dict(garland())
    found = learned(jobs(30, 1.3, phase=phase))
    before = example_rates()
    after = rates_with(before, found.changes)

    order = OrderConditions(strike=True, drive_minutes=25)
    old, new = (hours(estimate(spec, rates=rates, conditions=order)) for rates in (before, after))

    assert new[phase] == pytest.approx(old[phase] * found.factor.factor, rel=6e-3)
    follows = {"hang": {"check and fill"}}.get(phase, set())  # a share of hanging
    for other in old.keys() - {phase} - follows:
        assert new[other] == old[other]


def hours(made: Estimate) -> dict[str, float]:
    return {line.phase: line.person_hours for line in made.labour}


def test_a_job_left_out_is_named_and_does_not_count() -> None:
    wrong = replace(jobs(1, 400, name="typed wrong")[0], is_left_out=True)
    found = learned([*jobs(9, 1.2), wrong])

    assert found.factor == learned(jobs(9, 1.2)).factor
    assert found.proposals[0].left_out == ("typed wrong 0",)
    assert found.proposals[0].apart == ()
    assert wrong in found.observations


def test_a_job_that_stands_apart_counts_until_it_is_left_out_and_is_named() -> None:
    odd = jobs(1, 4, name="storm")
    found = learned([*jobs(9, 1.2), *odd])

    assert found.apart == tuple(odd)
    assert found.proposals[0].apart == ("storm 0",)
    assert found.proposals[0].jobs == 10
    assert found.factor.factor > learned(jobs(9, 1.2)).factor.factor


def test_jobs_that_stand_apart_do_not_make_a_change_by_themselves() -> None:
    found = learned([*jobs(9, 1.0), *jobs(2, 40, name="storm")])

    assert len(found.apart) == 2
    assert not found.changes
    assert found.proposals[0].why in (ONLY_APART, WITHIN)


def test_with_few_jobs_only_one_far_from_the_card_stands_apart() -> None:
    assert learned(jobs(2, 2)).apart == ()
    assert len(learned(jobs(1, 100)).apart) == 1


def test_jobs_alike_to_the_second_make_no_outlier_of_a_near_one() -> None:
    alike = [replace(o, actual_s=4000.0) for o in jobs(9, 1)]

    assert learned([*alike, *jobs(1, 1.3)]).apart == ()


@pytest.mark.parametrize(
    ("observations", "why"),
    [
        (jobs(2, 1.5), TOO_FEW.format(counted=2, enough=3)),
        (jobs(9, 1.0), WITHIN),
        ([replace(o, actual_s=3600 * 1.02) for o in jobs(300, 1)], SMALL.format(least=0.03)),
    ],
)
def test_what_is_not_worth_adopting_says_why(observations: list[Observation], why: str) -> None:
    found = learned(observations)

    assert {proposal.why for proposal in found.proposals} == {why}
    assert not found.is_worth_adopting


def test_outdoors_and_cold_are_proposed_apart_from_the_level() -> None:
    found = learned(
        [
            *jobs(12, 1.0, phase="hang"),
            *jobs(12, 1.4, phase="hang", name="outside", is_outdoor=True),
            *jobs(12, 1.4 * 1.3, phase="hang", name="frost", is_outdoor=True, is_cold=True),
        ]
    )
    by_name = {proposal.name: proposal for proposal in found.proposals}

    assert found.changes.keys() == {"outdoor_factor", "cold_or_rain_factor"}
    assert 1.2 < by_name["outdoor_factor"].learned < 1.4
    assert 1.1 < by_name["cold_or_rain_factor"].learned / CARD.cold_or_rain_factor < 1.3
    assert by_name["outdoor_factor"].jobs == 24


def test_where_all_jobs_are_outdoors_they_speak_of_the_level() -> None:
    found = learned(jobs(12, 1.4, phase="hang", is_outdoor=True))

    assert "outdoor_factor" not in {proposal.name for proposal in found.proposals}
    assert found.factor == learned(jobs(12, 1.4, phase="hang")).factor


def test_quicker_outdoors_than_inside_is_no_number_for_the_card() -> None:
    found = learned([*jobs(12, 1.0, phase="hang"), *jobs(12, 0.6, phase="hang", is_outdoor=True)])

    (outdoors,) = (p for p in found.proposals if p.name == "outdoor_factor")
    assert (outdoors.learned, outdoors.why) == (1, AT_LIMIT)


class TestFromOneJob:
    PLANNED = {TYING: 7200.0, "hang": 3600.0, "check and fill": 540.0, "drive": 3000.0}

    def observed(self, card: UnitTimes = CARD, **actual: float | None) -> dict[str, Observation]:
        seconds = {name.replace("_", " "): value for name, value in actual.items()}
        found = observations_of(
            "library", planned_s=self.PLANNED, actual_s=seconds, planned_by=CARD, card=card
        )
        return {each.phase: each for each in found}

    def test_phases_nobody_timed_say_nothing(self) -> None:
        assert self.observed(inflate_and_tie=9000.0, hang=None).keys() == {TYING}

    def test_driving_has_no_unit_time(self) -> None:
        assert self.observed(drive=9000.0) == {}

    def test_checking_is_held_against_the_hanging_that_was(self) -> None:
        found = self.observed(hang=7200.0, check_and_fill=1080.0)

        assert found["hang"].ratio == pytest.approx(2)
        assert found["check and fill"].ratio == pytest.approx(1)

    def test_a_card_that_was_changed_since_expects_what_it_says_now(self) -> None:
        """So that what was adopted is not proposed a second time."""
        slower = replace(
            CARD,
            **{name: getattr(CARD, name) * 1.25 for name in TIMES_OF_PHASE[TYING]},
        )

        assert self.observed(inflate_and_tie=9000.0)[TYING].ratio == pytest.approx(1.25)
        assert self.observed(slower, inflate_and_tie=9000.0)[TYING].ratio == pytest.approx(1)

    def test_no_time_at_all_is_refused(self) -> None:
        with pytest.raises(ValueError, match="no time to compare"):
            Observation(job="library", phase=TYING, expected_s=0, actual_s=10)
