import pytest

from quoting.calling_off.bands import NOTHING_AGREED, band_of, bands_in_words, bands_text
from quoting.estimator.rates import EXAMPLE_CALLING_OFF, CallingOffBand


def bands(*pairs: tuple[int, int]) -> tuple[CallingOffBand, ...]:
    return tuple(CallingOffBand(from_days=days, keep_bp=keep) for days, keep in pairs)


@pytest.mark.parametrize(
    ("notice", "keeps"),
    [
        (400, 2500),
        (30, 2500),
        (29, 5000),
        (14, 5000),
        (13, 7500),
        (7, 7500),
        (6, 10_000),
        (0, 10_000),
        (-3, 10_000),
    ],
)
def test_the_longest_notice_that_is_reached_counts(notice: int, keeps: int) -> None:
    assert band_of(EXAMPLE_CALLING_OFF, notice_days=notice).keep_bp == keeps


def test_without_bands_there_is_none() -> None:
    assert band_of((), notice_days=3) is None
    assert bands_text(()) == NOTHING_AGREED


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (
            EXAMPLE_CALLING_OFF,
            ["30 days or more", "14 to 29 days", "7 to 13 days", "fewer than 7 days"],
        ),
        (bands((0, 1)), ["at any time"]),
        (bands((1, 1), (0, 1)), ["1 day or more", "on the day"]),
        (bands((3, 1), (2, 1), (0, 2)), ["3 days or more", "2 days", "fewer than 2 days"]),
    ],
)
def test_bands_are_said_so_that_each_day_is_in_one(made, said: list[str]) -> None:
    assert [band.notice for band in bands_in_words(made)] == said
