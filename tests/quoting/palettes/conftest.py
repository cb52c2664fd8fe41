import pytest

from decor.jobs.photos import photos_add, photos_read
from decor.models import JobPhoto
from inventory.catalogue.starter import add_starter_catalogue
from quoting.models import Piece
from quoting.pieces.service import piece_add
from tests.decor.pictures import bytes_named
from tests.factories import QuoteFactory
from tests.quoting.palette.photos import saved, striped

# What the stripes are nearest to in the starter catalogue: Oat, Fern and Copper.
STRIPES = {"#e8dcc6": 0.6, "#5e7f57": 0.3, "#b4693d": 0.1}


@pytest.fixture
def piece(business: object) -> Piece:
    """A walk-through arch in plum, of a business with the starter's colours."""
    add_starter_catalogue()
    piece = piece_add(quote=QuoteFactory(), shape="walk_arch")
    piece.typed |= {"base": ["plum"], "share_plum": "100", "arch_width": "9 ft"}
    piece.save()
    return piece


@pytest.fixture
def photo(piece: Piece) -> JobPhoto:
    upload = bytes_named("idea.jpg", saved(striped(STRIPES), "JPEG", quality=95))
    [photo] = photos_add(job=piece.quote.job, pictures=photos_read([upload]).pictures)
    return photo
