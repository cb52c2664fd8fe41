"""What every client is told about balloons, on every document that reaches them."""

from dataclasses import dataclass

# The words of the law for latex balloons: 16 CFR 1500.19(b)(2).
CHOKING = (
    "Children under 8 yrs. can choke or suffocate on uninflated or broken balloons. "
    "Adult supervision required. Keep uninflated balloons from children. "
    "Discard broken balloons at once."
)


@dataclass(frozen=True)
class SafetyNote:
    title: str
    text: str


SAFETY_NOTES = (
    SafetyNote("Warning: choking hazard", CHOKING),
    SafetyNote(
        "Latex allergy",
        "Most of these balloons are natural rubber latex. Tell us, and your guests, if anyone "
        "who will be near them is allergic to latex; we cannot make a place free of it.",
    ),
    SafetyNote(
        "Never let them go outdoors",
        "Keep every balloon tied down. Released balloons harm animals and are against the law "
        "in many places: check your local rules.",
    ),
    SafetyNote(
        "Foil and power lines",
        "Foil carries electricity. Keep it away from power lines and sockets, and do not try to "
        "free a balloon that has caught on a line: call the power company.",
    ),
    SafetyNote(
        "Leave it as it hangs",
        "Do not climb on, pull at or move the garland. If it works loose or the wind gets up, "
        "keep people clear of it and call us.",
    ),
)
