import pytest

from quoting.estimator import constants

NAMED = {
    name: value for name, value in vars(constants).items() if isinstance(value, constants.Constant)
}


@pytest.mark.parametrize("name", NAMED)
def test_every_constant_has_a_unit_a_provenance_and_lies_in_its_range(name):
    constant = NAMED[name]
    assert constant.unit
    assert constant.provenance
    assert constant.low <= constant.value <= constant.high
