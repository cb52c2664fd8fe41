"""The garland drawn over the photo: every balloon, where the camera would see it."""

import re
import xml.etree.ElementTree as ET
from datetime import UTC, datetime

import numpy as np
import pytest
from django.template import Context, Template

from quoting.estimator.picture import picture
from quoting.models import Piece
from quoting.pieces.service import piece_read, piece_type
from quoting.traces.overlay import piece_on_photo_svg, traced_picture_svg
from quoting.traces.paths import path_of, trace_of
from quoting.traces.service import trace_keep
from tests.quoting.traces.conftest import CAMERA, PHOTO_PX, marked

NOW = datetime(2026, 6, 13, 12, 0, tzinfo=UTC)
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def traced(piece, photo, surroundings) -> Piece:
    trace_keep(piece=piece, photo=photo, typed=marked(), surroundings=surroundings, now=NOW)
    piece.refresh_from_db()
    return piece


@pytest.fixture
def made(traced, surroundings):
    return piece_read(piece=traced, surroundings=surroundings).estimate


def drawn(piece, made, surroundings) -> ET.Element:
    svg = piece_on_photo_svg(piece, made=made, catalogue=surroundings.catalogue)
    return ET.fromstring(svg)


def test_every_balloon_of_the_estimate_is_on_the_photo(traced, made, surroundings):
    root = drawn(traced, made, surroundings)
    assert root.get("viewBox") == "0 0 {} {}".format(*PHOTO_PX)
    assert root.find(f"{SVG}image").get("href") == f"/photos/{trace_of(traced).photo_id}/"
    counted = sum(line.need for line in made.balloons)
    assert len(root.findall(f".//{SVG}*[@class='balloon']")) == counted


def test_balloons_are_where_the_camera_sees_them_and_as_large(traced, made, surroundings):
    """Against the pinhole camera of the tests: its own projection, no homography in it."""
    shown = picture(made, backdrop=None)
    root = drawn(traced, made, surroundings)
    balloons = root.findall(f".//{SVG}use[@class='balloon']")
    places = [re.findall(r"[-\d.]+", use.get("transform")) for use in balloons]
    found = np.array([[float(number) for number in place] for place in places])
    middles = np.array([(b.x_m, b.y_m) for b in shown.balloons])
    # Marks are written to a tenth of a pixel; near the door that moves a place by less than one.
    assert found[:, :2] == pytest.approx(CAMERA.pixels(middles), abs=1.5)
    radii = np.array([b.diameter_m / 2 for b in shown.balloons])
    # A ball at the depth of the wall has the focal length times its radius over its depth; the
    # long axis of a flat circle differs by the slant within it, under a tenth at this camera.
    seen = CAMERA.focal_px * radii / CAMERA.depths(middles)
    assert found[:, 2] * 100 == pytest.approx(seen, rel=0.1)


def test_a_path_changed_by_hand_is_not_drawn(traced, made, surroundings):
    typed = {**traced.typed, "drape_points": "0 ft, 0 ft\n0 ft, 7 ft"}
    piece = piece_type(piece=traced, typed=typed, surroundings=surroundings).piece
    assert piece_on_photo_svg(piece, made=made, catalogue=surroundings.catalogue) == ""


def test_a_piece_without_a_trace_is_not_drawn(piece, made, surroundings):
    piece.traced_photos.all().delete()
    assert piece_on_photo_svg(piece, made=made, catalogue=surroundings.catalogue) == ""


def test_a_name_with_angle_brackets_is_only_text(traced, made, surroundings):
    traced.title = "<script>alert(1)</script>"
    svg = piece_on_photo_svg(traced, made=made, catalogue=surroundings.catalogue)
    assert "<script" not in Template("{{ svg }}").render(Context({"svg": svg}))
    assert traced.title in ET.fromstring(svg).find(f"{SVG}title").text


def test_a_document_may_show_it_with_its_own_address(traced, made, surroundings):
    trace = trace_of(traced)
    svg = traced_picture_svg(
        trace,
        path_of(trace, traced),
        picture(made, backdrop=None),
        catalogue=surroundings.catalogue,
        photo_href="app:media/job-photos/porch.jpg",
    )
    assert ET.fromstring(svg).find(f"{SVG}image").get("href").startswith("app:media/")
