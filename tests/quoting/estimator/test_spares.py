import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.estimator import Catalogue, CatalogueItem, Rates, estimate, spec_from_dict
from quoting.estimator.balloons import loss_rate
from quoting.estimator.spares import order_quantity

from .garlands import plain_garland


def item(**changes) -> CatalogueItem:
    plain = {
        "colour": "oat",
        "name": "Oat",
        "kind": "latex",
        "nominal_in": 11.0,
        "bag_count": 100,
        "bag_cents": 1500,
        "hex": "#E8DCC6",
    }
    return CatalogueItem(**(plain | changes))


@pytest.mark.parametrize(
    ("bought", "loss"),
    [
        (item(), 0.04),
        (item(nominal_in=17.0), 0.04),
        (item(nominal_in=24.0), 0.08),
        (item(kind="foil", nominal_in=None), 0.12),
        (item(loss_rate=0.3), 0.3),
        (item(loss_rate=0.0), 0.0),
    ],
)
def test_loss_is_the_items_own_or_the_default_of_its_kind(bought, loss):
    assert loss_rate(bought, Rates()) == loss


def test_an_item_with_a_bad_history_needs_more_spares():
    spec = spec_from_dict(plain_garland())
    good, bad = (
        estimate(spec, catalogue=Catalogue(items=(item(loss_rate=p),))).balloons[0].spare
        for p in (0.01, 0.2)
    )
    assert bad > good > 0


@pytest.mark.parametrize(("need", "loss"), [(0, 0.04), (12, 0.0)])
def test_nothing_needed_or_nothing_lost_needs_no_spares(need, loss):
    assert order_quantity(need, loss, 0.95) == need


@given(st.integers(1, 3000), st.floats(0.001, 0.5), st.floats(0.5, 0.999))
def test_needing_one_more_never_orders_fewer(need, loss, confidence):
    assert order_quantity(need + 1, loss, confidence) > order_quantity(need, loss, confidence)
