from datetime import date

import pytest

from inventory.buying.when import Urgency, is_in_time, when_to_order

FRIDAY = date(2026, 6, 12)
MONDAY_BEFORE = date(2026, 6, 8)


@pytest.mark.parametrize(
    ("today", "lead", "words", "urgency"),
    [
        (
            date(2026, 6, 1),
            5,
            "Order by Friday 5 June: arrives Wednesday 10 June, needed Friday 12 June.",
            Urgency.LATER,
        ),
        (
            date(2026, 6, 5),
            5,
            "Order today: arrives Wednesday 10 June, needed Friday 12 June.",
            Urgency.TODAY,
        ),
        (
            date(2026, 6, 6),
            5,
            "Order today: arrives Thursday 11 June, needed Friday 12 June.",
            Urgency.TODAY,
        ),
        (
            date(2026, 6, 7),
            5,
            "Ordered today it arrives Friday 12 June, the day it is needed: too late to count on.",
            Urgency.TOO_LATE,
        ),
        (
            date(2026, 6, 10),
            5,
            "Ordered today it arrives Monday 15 June, needed Friday 12 June: too late.",
            Urgency.TOO_LATE,
        ),
        (
            date(2026, 6, 14),
            1,
            "Ordered today it arrives Monday 15 June, was needed Friday 12 June: too late.",
            Urgency.TOO_LATE,
        ),
        (date(2026, 6, 1), None, "No supplier yet, needed Friday 12 June.", Urgency.NO_SUPPLIER),
    ],
)
def test_when_to_order_in_words(today, lead, words, urgency):
    found = when_to_order(needed_on=FRIDAY, lead_days=lead, days_to_spare=2, today=today)
    assert found.words == words
    assert found.urgency == urgency


def test_there_is_at_least_a_day_to_spare():
    found = when_to_order(needed_on=FRIDAY, lead_days=1, days_to_spare=0, today=date(2026, 6, 1))
    assert found.arrives_on == date(2026, 6, 11)


@pytest.mark.parametrize(("lead", "is_it"), [(3, True), (4, False), (5, False)])
def test_what_comes_on_the_day_of_making_is_not_in_time(lead, is_it):
    assert is_in_time(lead_days=lead, needed_on=FRIDAY, today=MONDAY_BEFORE) is is_it
