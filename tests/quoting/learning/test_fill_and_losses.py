import pytest

from quoting.estimator import estimate, example_rates, spec_from_dict
from quoting.estimator.filling import mean_volume
from quoting.estimator.learning import (
    FillObservation,
    LossObservation,
    filled_m3,
    learn_fill,
    learn_loss,
    rates_with,
)
from quoting.estimator.learning.proposal import AT_LIMIT, ONLY_APART, TOO_FEW, WITHIN
from tests.quoting.estimator.garlands import garland

CARD = 0.70
AROUND = (0.97, 1.0, 1.03)


def pieces(count: int, fill: float, *, width_m: float = 0.55, job: str = "job"):
    return [
        FillObservation(
            job=f"{job} {at}",
            width_m=width_m,
            envelope_m3=0.8,
            filled_m3=0.8 * fill * AROUND[at % 3],
        )
        for at in range(count)
    ]


def test_a_piece_that_hung_as_planned_filled_what_the_card_says() -> None:
    made = estimate(spec_from_dict(garland()))
    mean = mean_volume(made.spec)
    facts = {
        "envelope_m3": made.envelope_m3,
        "fill": CARD,
        "planned_body": made.count.body,
        "mean_m3": mean,
    }

    as_planned = filled_m3(**facts, used=made.count.body)
    ten_more = filled_m3(**facts, used=made.count.body + 10)

    assert as_planned / made.envelope_m3 == pytest.approx(CARD)
    assert ten_more - as_planned == pytest.approx(10 * mean)


def test_a_card_with_the_fill_of_a_job_plans_what_the_job_used() -> None:
    """With no accents: theirs are shares of the whole, so they would grow as well."""
    spec = spec_from_dict(garland(accents=None))
    before = estimate(spec)
    fill = filled_m3(
        envelope_m3=before.envelope_m3,
        fill=before.rates.fill,
        planned_body=before.count.body,
        mean_m3=mean_volume(spec),
        used=before.count.body + 4,
    )

    after = estimate(spec, rates=rates_with(example_rates(), {"fill": fill / before.envelope_m3}))

    assert after.count.body == pytest.approx(before.count.body + 4, abs=1)


def test_fuller_garlands_are_proposed_as_a_fill() -> None:
    learning = learn_fill(pieces(12, 0.73), card=CARD)

    assert learning.proposal.name == "fill"
    assert CARD < learning.proposal.learned < 0.74
    assert learning.proposal.is_worth_adopting


def test_slim_and_wide_are_told_apart() -> None:
    learning = learn_fill(
        [*pieces(9, 0.76, width_m=0.35), *pieces(9, 0.64, width_m=0.9, job="hall")], card=CARD
    )

    slim, full = learning.bands
    assert (slim.pieces, full.pieces) == (9, 9)
    assert slim.fill > CARD > full.fill
    assert slim.low < slim.fill < slim.high
    assert learning.proposal.why == WITHIN


def test_more_than_balloons_can_be_packed_is_no_number_for_the_card() -> None:
    proposal = learn_fill(pieces(12, 0.9), card=CARD).proposal

    assert (proposal.learned, proposal.why) == (0.7404, AT_LIMIT)


def test_without_pieces_there_is_nothing_to_learn() -> None:
    assert learn_fill([], card=CARD) is None


def test_an_impossible_piece_is_refused() -> None:
    with pytest.raises(ValueError, match="no envelope"):
        FillObservation(job="library", width_m=0.5, envelope_m3=0, filled_m3=1)


def lost(*counts: int, tried: int = 120) -> list[LossObservation]:
    return [
        LossObservation(job=f"job {at}", tried=tried, lost=count) for at, count in enumerate(counts)
    ]


def test_losses_move_from_the_card_to_what_was_counted() -> None:
    """20 tries of the prior at 4 %, and 50 of 600: (0.8 + 50) / 620."""
    proposal = learn_loss("loss_latex", lost(9, 11, 10, 8, 12), card=0.04)

    assert proposal.learned == pytest.approx(50.8 / 620, abs=5e-4)
    assert proposal.is_worth_adopting


def test_one_bad_day_is_pointed_out_and_changes_nothing_by_itself() -> None:
    proposal = learn_loss("loss_latex", lost(5, 4, 5, 5, 40), card=0.04)

    assert proposal.apart == ("job 4",)
    assert proposal.jobs == 5
    assert proposal.why == ONLY_APART


def test_a_bad_day_left_out_is_named_and_not_counted() -> None:
    bad = LossObservation(job="storm", tried=120, lost=40, is_left_out=True)
    proposal = learn_loss("loss_latex", [*lost(5, 4, 5), bad], card=0.04)

    assert proposal.left_out == ("storm",)
    assert proposal.learned == learn_loss("loss_latex", lost(5, 4, 5), card=0.04).learned


def test_two_jobs_are_too_few() -> None:
    proposal = learn_loss("loss_foil", lost(30, 30), card=0.12)

    assert proposal.why == TOO_FEW.format(counted=2, enough=3)


def test_nothing_tried_teaches_nothing() -> None:
    assert learn_loss("loss_foil", lost(0, tried=0), card=0.12) is None


def test_more_lost_than_tried_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot have lost"):
        LossObservation(job="library", tried=3, lost=4)
