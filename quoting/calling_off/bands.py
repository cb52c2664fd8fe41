"""What is kept of a total by days of notice, as a table that a client understands."""

from collections.abc import Sequence
from dataclasses import dataclass

from decor.display import percent_text
from quoting.estimator.rates import CallingOffBand

NOTHING_AGREED = "nothing is said of it"


@dataclass(frozen=True)
class BandWords:
    notice: str
    keep_bp: int


def band_of(bands: Sequence[CallingOffBand], *, notice_days: int) -> CallingOffBand | None:
    """The first whose days of notice are reached, longest first; once the day is there or gone,
    the last. None without any bands."""
    reached = (band for band in bands if notice_days >= band.from_days)
    return next(reached, bands[-1] if bands else None)


def bands_in_words(bands: Sequence[CallingOffBand]) -> tuple[BandWords, ...]:
    """`30 days or more`, `14 to 29 days`, `fewer than 7 days`."""
    longer = [None, *(band.from_days for band in bands)]
    return tuple(
        BandWords(_notice(band.from_days, before), band.keep_bp)
        for band, before in zip(bands, longer, strict=False)
    )


def band_words(bands: Sequence[CallingOffBand], band: CallingOffBand) -> str:
    """`7 to 13 days’ notice`."""
    said = bands_in_words(bands)[bands.index(band)].notice
    if said.endswith(" days"):
        return f"{said}’ notice"
    return f"{said}’s notice" if said.endswith(" day") and said[0].isdigit() else f"notice {said}"


def bands_text(bands: Sequence[CallingOffBand]) -> str:
    said = [f"{percent_text(band.keep_bp)} ({band.notice})" for band in bands_in_words(bands)]
    return ", ".join(said) or NOTHING_AGREED


def _notice(from_days: int, longer: int | None) -> str:
    if longer is None:
        return f"{_days(from_days)} or more" if from_days else "at any time"
    if not from_days:
        return f"fewer than {_days(longer)}" if longer > 1 else "on the day"
    most = longer - 1
    return _days(from_days) if most == from_days else f"{from_days} to {_days(most)}"


def _days(count: int) -> str:
    return "1 day" if count == 1 else f"{count} days"
