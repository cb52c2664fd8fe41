import pytest

from quoting.estimator.learning import (
    Observation,
    RangedJob,
    Verdict,
    calibration,
    phase_errors,
)


def ranged(*actuals: float) -> list[RangedJob]:
    return [
        RangedJob(job=f"job {at}", low=8, estimate=10, high=13, actual=actual)
        for at, actual in enumerate(actuals)
    ]


def timed(*ratios: float, phase: str = "hang") -> list[Observation]:
    return [
        Observation(job=f"job {at}", phase=phase, expected_s=3600, actual_s=3600 * ratio)
        for at, ratio in enumerate(ratios)
    ]


@pytest.mark.parametrize("count", [0, 1, 9])
def test_too_few_jobs_say_nothing(count: int) -> None:
    found = calibration(ranged(*[20.0] * count))

    assert found.verdict is Verdict.TOO_FEW
    assert found.words == f"Too few jobs to say: {count}, and it takes 10."


def test_eight_of_ten_is_as_it_should_be() -> None:
    found = calibration(ranged(*[10.0] * 8, 7, 14))

    assert (found.within, found.above, found.below, found.share) == (8, 1, 1, 0.8)
    assert found.words == (
        "8 of 10 jobs fell within their range. That is what a range for 80% of jobs should do."
    )


def test_the_ends_of_a_range_belong_to_it() -> None:
    assert calibration(ranged(8, 13)).within == 2


def test_a_range_too_narrow_says_on_which_side() -> None:
    found = calibration(ranged(*[10.0] * 4, *[15.0] * 6))

    assert found.verdict is Verdict.TOO_NARROW
    assert found.words.endswith("too narrow, and most of the others came out above it.")


def test_five_of_ten_is_not_yet_proof_and_four_are() -> None:
    """Which is why ten are the fewest that are judged."""
    assert calibration(ranged(*[10.0] * 5, *[15.0] * 5)).verdict is Verdict.HOLDS
    assert calibration(ranged(*[10.0] * 4, *[15.0] * 6)).verdict is Verdict.TOO_NARROW


def test_a_range_that_every_job_falls_within_is_too_wide_in_the_end() -> None:
    assert calibration(ranged(*[10.0] * 16)).verdict is Verdict.HOLDS
    assert calibration(ranged(*[10.0] * 17)).verdict is Verdict.TOO_WIDE


def test_errors_are_by_phase_with_their_middle_and_spread() -> None:
    hang, tie = phase_errors([*timed(1.0, 1.1, 1.2, 1.3, 9.0), *timed(2.0, phase="pack")])

    assert hang.ratio == pytest.approx(1.2)
    assert 1.0 < hang.low < 1.2 < hang.high < 1.5  # the wild one does not widen it
    assert hang.words == "Usually takes 20% more than estimated."
    assert (tie.low, tie.high) == (None, None)
    assert tie.words == "Too few jobs to say: 1, and it takes 5."


def test_an_estimate_that_is_nearly_right_is_called_right() -> None:
    (hang,) = phase_errors(timed(0.98, 1.02, 1.03, 1.0, 1.04))

    assert hang.words == "About as estimated."
