from quoting.palettes.apart import WHAT_TO_DO, apart_line, apart_sentences

# The starter catalogue's own.
FERN, COPPER, OAT, TIDEWATER = "#5e7f57", "#b4693d", "#e8dcc6", "#3f7c8c"


def test_colours_that_all_tell_apart_say_nothing():
    assert apart_line({"Oat": OAT, "Tidewater": TIDEWATER}) == ""
    assert apart_sentences({"Oat": OAT, "Tidewater": TIDEWATER}) == ()
    assert apart_line({}) == ""


def test_a_red_and_a_green_of_one_lightness_are_named():
    line = apart_line({"Fern": FERN, "Copper": COPPER, "Oat": OAT})
    assert line == (
        "Hard to tell apart for people with a common colour-vision deficiency: "
        f"Fern with Copper. {WHAT_TO_DO}"
    )
    assert apart_sentences({"Fern": FERN, "Copper": COPPER})[0].startswith(
        "Fern and Copper are hard to tell apart for about 1 man in 100, who sees no red"
    )


def test_two_shades_of_one_colour_are_hard_for_everybody():
    line = apart_line({"Fern": FERN, "Moss": "#5f8058", "Copper": COPPER})
    assert "for everybody: Fern with Moss." in line
    assert "deficiency: Fern with Copper and Moss with Copper." in line
