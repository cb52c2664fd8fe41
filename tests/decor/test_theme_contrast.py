"""The look's own colours, measured as WCAG 2.2 measures them, in light and dark.

Source: W3C, Web Content Accessibility Guidelines 2.2, "contrast ratio" and "relative luminance",
success criteria 1.4.3 (text 4.5:1) and 1.4.11 (edges of controls, focus and pictures 3:1).
"""

import re
from pathlib import Path

import pytest

import decor

STATIC = Path(decor.__file__).parent / "static" / "decor"
TOKENS = (STATIC / "tokens.css").read_text()
HEX = r"#[0-9a-f]{6}"

TEXT = 4.5
EDGE = 3.0
GROUNDS = ("paper", "sheet", "hollow")
STATES = ("good", "warn", "bad")


def luminance(colour: str) -> float:
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4
        for value in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def colours_of(css: str) -> dict[str, str]:
    return dict(re.findall(rf"--([\w-]+): ({HEX});", css))


LIGHT_CSS, DARK_CSS = TOKENS.split("@media screen and (prefers-color-scheme: dark)")
LIGHT, DARK = colours_of(LIGHT_CSS), colours_of(DARK_CSS)

TEXT_PAIRS = [
    *(
        (text, ground)
        for text in ("ink", "ink-soft", "action", "action-deep")
        for ground in GROUNDS
    ),
    *((state, ground) for state in STATES for ground in (*GROUNDS, f"{state}-wash")),
    *(("ink", f"{state}-wash") for state in STATES),
    ("ink", "action-wash"),
    ("ink", "rule"),
    ("on-action", "action"),
    ("on-action", "action-deep"),
]
EDGE_PAIRS = [
    *((edge, ground) for edge in ("edge", "focus", "action") for ground in GROUNDS),
    *(("focus", f"{state}-wash") for state in STATES),
    ("action", "action-wash"),
]


# Values: W3C WCAG 2.2 and its Understanding document for 1.4.3 (a ratio is never rounded up).
@pytest.mark.parametrize(
    ("one", "other", "ratio", "digits"),
    [
        ("#777777", "#ffffff", 4.48, 2),
        ("#767676", "#ffffff", 4.54, 2),
        ("#595959", "#ffffff", 7.00, 2),
        ("#ff8100", "#64003a", 5.2354, 4),
        ("#000000", "#ffffff", 21.0, 2),
    ],
)
def test_the_formula_gives_the_published_ratios(one, other, ratio, digits):
    # Half of the last digit that was published.
    assert contrast(one, other) == pytest.approx(ratio, abs=0.5 * 10**-digits)


def test_grey_777777_on_white_is_refused_and_767676_is_not():
    assert contrast("#777777", "#ffffff") < TEXT <= contrast("#767676", "#ffffff")


def test_the_dark_look_answers_every_colour_of_the_light_one():
    assert set(DARK) == set(LIGHT)
    assert len(LIGHT) >= 18


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize(("text", "ground"), TEXT_PAIRS)
def test_text_can_be_read(look, text, ground):
    assert contrast(look[text], look[ground]) >= TEXT


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize(("edge", "ground"), EDGE_PAIRS)
def test_edges_of_controls_and_focus_can_be_seen(look, edge, ground):
    assert contrast(look[edge], look[ground]) >= EDGE


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])
def test_words_on_the_dark_line_of_the_state_of_the_connection_can_be_read(look):
    assert contrast(look["paper"], look["ink"]) >= TEXT


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("picture", ["chevron.svg", "close.svg", "mark.svg"])
def test_pictures_with_one_colour_for_both_looks_can_be_seen_in_both(look, picture):
    drawn = re.findall(HEX, (STATIC / picture).read_text())
    assert drawn
    for colour in drawn:
        assert min(contrast(colour, look[ground]) for ground in ("paper", "sheet")) >= EDGE, colour


@pytest.mark.parametrize("name", ["theme.css", "forms.css", "parts.css"])
def test_a_colour_is_written_in_the_tokens_and_nowhere_else(name):
    assert re.findall(r"#[0-9a-fA-F]{3,8}\b", (STATIC / name).read_text()) == []


def test_a_pressed_thing_is_as_high_as_a_thumb_is_wide():
    # WCAG 2.2, 2.5.8 asks for 24 px; we take the 44 px of 2.5.5. One rem is 16 px.
    (target,) = re.findall(r"--target: ([\d.]+)rem", TOKENS)
    assert float(target) * 16 >= 44
    forms = (STATIC / "forms.css").read_text()
    assert re.search(r"\.btn \{[^}]*min-height: var\(--target\)", forms)
    assert re.search(r"\.form-control, \.form-select \{[^}]*min-height: var\(--target\)", forms)
