import pytest

from decor.models.business import Units
from inventory.catalogue.starter import add_starter_catalogue
from quoting.estimator import OrderConditions, example_catalogue, example_rates
from quoting.models import Piece
from quoting.pieces.reading import Surroundings
from quoting.pieces.service import piece_add
from tests.factories import QuoteFactory


def surroundings_in(units: str, *, is_outdoor: bool = False) -> Surroundings:
    return Surroundings(
        units=units,
        catalogue=example_catalogue(),
        offered=example_catalogue(),
        rates=example_rates(),
        conditions=OrderConditions(),
        site_name="Library porch",
        site_is_outdoor=is_outdoor,
    )


@pytest.fixture
def surroundings() -> Surroundings:
    """No database: the example catalogue and rates, feet and inches."""
    return surroundings_in(Units.IMPERIAL)


@pytest.fixture
def piece(business: object) -> Piece:
    """Just added, in a quote of a business whose shelf has the starter colours."""
    add_starter_catalogue()
    return piece_add(quote=QuoteFactory(), shape="walk_arch")
