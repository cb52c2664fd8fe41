"""What changed between two rate cards, in words."""

from collections.abc import Iterator

from quoting.calling_off.bands import bands_text
from quoting.estimator import rates_to_dict
from quoting.models import RateCard
from quoting.rate_cards.folds import every_line, rush_text
from quoting.rate_cards.lines import RateLine, label_of
from quoting.rate_cards.measures import Showing

TERMS_REWORDED = "The terms are worded anew."
TERMS_GIVEN = "There are terms now."
TERMS_TAKEN = "The terms are taken out."


def card_differences(before: RateCard, after: RateCard, *, showing: Showing) -> tuple[str, ...]:
    """`Margin: 40 % of the price, before 35 % of the price`, in the order of the card."""
    return (*_rate_differences(before, after, showing), *_terms_difference(before, after))


def _rate_differences(before: RateCard, after: RateCard, showing: Showing) -> Iterator[str]:
    old, new = before.as_rates(), after.as_rates()
    old_data, new_data = rates_to_dict(old), rates_to_dict(new)
    for line in every_line():
        was, now = line.text(old_data, showing), line.text(new_data, showing)
        if was != now:
            yield f"{_subject(line, showing)}: {now}, before {was}"
    if old.rush != new.rush:
        yield f"Rush: {rush_text(new)}; before {rush_text(old)}"
    if old.calling_off != new.calling_off:
        said = bands_text(new.calling_off), bands_text(old.calling_off)
        yield "Kept when called off: {}; before {}".format(*said)
    if old.currency != new.currency:
        yield f"Currency: {new.currency}, before {old.currency}"


def _subject(line: RateLine, showing: Showing) -> str:
    label = label_of(line, showing)
    return f"Wage for “{label.lower()}”" if line.is_optional else label


def _terms_difference(before: RateCard, after: RateCard) -> Iterator[str]:
    if before.terms == after.terms:
        return
    if not before.terms:
        yield TERMS_GIVEN
    else:
        yield TERMS_REWORDED if after.terms else TERMS_TAKEN
