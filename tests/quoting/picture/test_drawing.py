import os
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest

from quoting.estimator import estimate, spec_from_dict
from quoting.estimator.picture import PictureError, picture, picture_svg, svg_over_photo
from tests.quoting.estimator.garlands import garland

from .pictured import COLOURS, drawn_in, pictured, random_garland, random_pictures

ROOT = Path(__file__).parents[3]
SVG = "{http://www.w3.org/2000/svg}"
_AGAIN = """
from tests.quoting.picture.pictured import pictured, random_garland
print(pictured(random_garland(5)).svg, end="")
"""


def test_the_same_spec_and_seed_are_the_same_to_the_byte():
    data = random_garland(4)
    assert pictured(data).svg == pictured(data).svg


def test_another_process_with_other_hashes_draws_the_same_bytes():
    for hashes in ("1", "2"):
        env = os.environ | {"PYTHONHASHSEED": hashes}
        drawn = subprocess.run(
            [sys.executable, "-c", _AGAIN], cwd=ROOT, env=env, capture_output=True, check=True
        )
        assert drawn.stdout.decode() == pictured(random_garland(5)).svg


def test_every_picture_is_well_formed_and_keeps_to_the_content_security_policy():
    for shown in random_pictures():
        for element in ElementTree.fromstring(shown.svg).iter():
            assert element.tag not in {f"{SVG}style", f"{SVG}script", f"{SVG}foreignObject"}
            assert "style" not in element.attrib
            assert not any(name.startswith("on") for name in element.attrib)


def test_it_has_a_name_and_words_for_those_who_do_not_see_it():
    root = ElementTree.fromstring(pictured(garland()).svg)
    assert root.get("role") == "img"
    named = root.get("aria-labelledby", "").split()
    ids = {element.get("id"): element for element in root.iter()}
    assert [ids[name].tag for name in named] == [f"{SVG}title", f"{SVG}desc"]
    assert "12 marigold 11-inch as accents" in ids[named[1]].text


def test_every_use_and_paint_is_defined_once_and_ids_take_the_prefix():
    shown = pictured(garland())
    drawn = picture_svg(shown.picture, colours=COLOURS, id_prefix="variant-2-")
    ids = re.findall(r' id="([^"]+)"', drawn)
    used = set(re.findall(r'href="#([^"]+)"', drawn)) | set(re.findall(r"url\(#([^)]+)\)", drawn))
    assert len(ids) == len(set(ids))
    assert used <= set(ids)
    assert all(name.startswith("variant-2-") for name in ids)


def test_hostile_names_stay_text():
    shown = picture(estimate(spec_from_dict(garland())))
    hostile = '"><script>alert(1)</script>&\x00\ud800'
    drawn = picture_svg(
        shown,
        colours={"oat": '#fff"/><script>', "fern": "url(javascript:alert(1))"},
        names={"oat": hostile},
        title=hostile,
        paper="red;}",
    )
    root = ElementTree.fromstring(drawn)
    assert not list(root.iter(f"{SVG}script"))
    assert root.find(f"{SVG}title").text == '"><script>alert(1)</script>&\ufffd\ufffd'
    assert "javascript" not in drawn


def test_an_id_prefix_that_would_need_escaping_is_refused():
    shown = picture(estimate(spec_from_dict(garland())))
    with pytest.raises(ValueError, match="not a plain id"):
        picture_svg(shown, colours={}, id_prefix='x"><script>')


def test_a_hostile_colour_key_stays_an_attribute():
    key = 'oat" onload="x\' <b>&\n'
    shown = picture(estimate(spec_from_dict(garland())))
    placed = [b.__class__(**{**vars(b), "colour": key}) for b in shown.balloons]
    other = shown.__class__(**{**vars(shown), "balloons": tuple(placed)})
    drawn = drawn_in(picture_svg(other, colours={}))
    assert {balloon.colour for balloon in drawn} == {key}


def test_more_balloons_than_a_picture_can_show_are_refused():
    path, width = {"kind": "line", "length_m": 90}, [[0, 1.2], [1, 1.2]]
    made = estimate(spec_from_dict(garland(path=path, width=width)))
    with pytest.raises(PictureError, match="at most 6,000 balloons"):
        picture(made)


def test_a_hundred_and_fifty_balloons_are_a_small_file():
    for shown in random_pictures():
        count = len(shown.picture.balloons)
        assert len(shown.svg) < 80_000 * max(count, 150) / 150


@pytest.mark.parametrize("backdrop", ["doorway", "person", None])
@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("number", range(6))
def test_everything_drawn_lies_within_the_frame(backdrop, units, number):
    shown = pictured(random_garland(number), backdrop=backdrop)
    drawn = picture_svg(shown.picture, colours=COLOURS, units=units)
    left, top, wide, high = map(float, ElementTree.fromstring(drawn).get("viewBox").split())
    for b in drawn_in(drawn):
        assert left <= b.x - b.diameter / 2
        assert b.x + b.diameter / 2 <= left + wide
        assert top <= b.y - b.diameter / 2
        assert b.y + b.diameter / 2 <= top + high


def test_a_door_is_as_high_as_it_is_said_to_be():
    """A common inside door, 3 ft by 6 ft 8 in: 914 by 2032 mm (common practice, no source)."""
    root = ElementTree.fromstring(pictured(garland()).svg)
    sizes = {(box.get("width"), box.get("height")) for box in root.iter(f"{SVG}rect")}
    assert ("914", "2032") in sizes


@pytest.mark.parametrize(
    ("units", "label", "length"), [("metric", "1 m", "1000"), ("imperial", "3 ft", "914.4")]
)
def test_the_scale_bar_is_as_long_as_it_says(units, label, length):
    shown = pictured(garland()).picture
    root = ElementTree.fromstring(picture_svg(shown, colours=COLOURS, units=units))
    assert [text.text for text in root.iter(f"{SVG}text")] == [label]
    assert any(f"h{length}m" in path.get("d") for path in root.iter(f"{SVG}path"))


def test_over_a_photo_square_on_it_is_the_same_picture():
    shown = pictured(garland()).picture
    drawn = svg_over_photo(
        shown,
        lambda metres: metres * (100, -100) + (300, 400),
        size_px=(600, 400),
        colours=COLOURS,
    )
    uses = list(ElementTree.fromstring(drawn).iter(f"{SVG}use"))
    rounds = [b for b in shown.balloons if b.kind == "latex"]
    for use, balloon in zip(uses, rounds, strict=True):
        x, y, scale = map(float, re.findall(r"-?[\d.]+", use.get("transform")))
        assert x == pytest.approx(300 + 100 * balloon.x_m, abs=0.06)
        assert y == pytest.approx(400 - 100 * balloon.y_m, abs=0.06)
        assert scale == pytest.approx(balloon.diameter_m / 2, abs=0.001)
    assert drawn_in(drawn) == drawn_in(picture_svg(shown, colours=COLOURS))


def test_over_a_photo_taken_aslant_balloons_shrink_with_their_distance():
    """A pinhole camera 4 m before the plane, turned by 30 degrees: a ball of radius r at depth
    z is seen f r / z large, near the middle of the photo."""
    focal, away, cos30, sin30 = 1000.0, 4.0, 0.8660254, 0.5

    def depth(x):
        return away + x * sin30

    def to_pixels(metres):
        x, y = metres.T
        across, down = focal * x * cos30 / depth(x), -focal * y / depth(x)
        return np.stack([500 + across, 400 + down], axis=1)

    shown = pictured(
        garland(path={"kind": "line", "length_m": 1.2}, width=[[0, 0.3], [1, 0.3]], singles=None)
    ).picture
    drawn = svg_over_photo(shown, to_pixels, size_px=(1000, 800), colours=COLOURS)
    uses = list(ElementTree.fromstring(drawn).iter(f"{SVG}use"))
    rounds = [b for b in shown.balloons if b.kind == "latex"]
    for use, balloon in zip(uses, rounds, strict=True):
        scale = float(use.get("transform").partition("scale(")[2].strip(")"))
        seen = focal * balloon.diameter_m / 2 / depth(balloon.x_m) / 100
        # The plane's slope there and the ball's own outline differ by the angle of view.
        assert scale == pytest.approx(seen, rel=0.06)
