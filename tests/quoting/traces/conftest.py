from collections.abc import Sequence

import numpy as np
import pytest

from decor.models import JobPhoto
from decor.models.business import Units
from inventory.catalogue.starter import add_starter_catalogue
from quoting.models import Piece
from quoting.pieces.reading import Surroundings
from quoting.pieces.service import piece_add, piece_type
from tests.decor.pictures import image_file
from tests.factories import QuoteFactory
from tests.quoting.pieces.conftest import surroundings_in
from tests.quoting.tracing.camera import Camera, rectangle

PHOTO_PX = (1600, 1200)
DOOR_M = (0.9144, 2.032)  # 3 ft by 6 ft 8 in
# Up one side, over a bump and half down the other: metres right and up of the door's low corner.
PATH_M = ((1.4, 0.2), (1.4, 1.9), (2.0, 2.3), (2.6, 1.9), (2.6, 1.0))
CAMERA = Camera(aim_m=(1.2, 1.1), away_m=5.5, yaw=28, pitch=-4, photo_px=PHOTO_PX, focal_px=1250.0)


def numbered(what: str, points: Sequence[Sequence[float]]) -> dict[str, str]:
    return {
        f"{what}_{row}_{way}": f"{number:.1f}"
        for row, point in enumerate(points, start=1)
        for way, number in zip("xy", point, strict=True)
    }


def corners_px() -> list[list[float]]:
    return CAMERA.pixels(rectangle(*DOOR_M, left=0.0)).tolist()


def taps_px() -> list[list[float]]:
    return CAMERA.pixels(np.array(PATH_M)).tolist()


def marked(**others: str) -> dict[str, str]:
    """All that makes a whole trace on a photo by our own camera."""
    typed = {"known": "rectangle", "width": "3 ft", "height": "6 ft 8 in"}
    return {**typed, **numbered("corner", corners_px()), **numbered("tap", taps_px()), **others}


@pytest.fixture
def surroundings() -> Surroundings:
    return surroundings_in(Units.IMPERIAL)


@pytest.fixture
def piece(business: object, surroundings: Surroundings) -> Piece:
    """An arch in oat and fern, which is not traced yet."""
    add_starter_catalogue()
    piece = piece_add(quote=QuoteFactory(), shape="walk_arch")
    typed = {"shape": "walk_arch", "base": ["oat", "fern"], "arch_width": "9 ft"}
    return piece_type(piece=piece, typed=typed, surroundings=surroundings).piece


@pytest.fixture
def photo(piece: Piece) -> JobPhoto:
    return photo_of(piece)


def photo_of(piece: Piece) -> JobPhoto:
    width, height = PHOTO_PX
    return JobPhoto.objects.create(
        job=piece.quote.job, image=image_file(size=PHOTO_PX), width_px=width, height_px=height
    )
