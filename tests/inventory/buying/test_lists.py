"""The judge itself, on a covering whose answer is published."""

from itertools import product

import numpy as np

from tests.inventory.buying.lists import least_cost

WIDTHS, WANTED, ROLL = (45, 36, 31, 14), (97, 610, 395, 211), 100


def test_it_cuts_453_rolls():
    """GAMS model library, CUTSTOCK: from rolls of 100, pieces of these widths: 453 rolls.

    A roll cut in one way is to it what a bag is to us, except that it gives several things at
    once, which no bag does: so this checks what we are checked by.
    """
    ways = [
        way
        for way in product(*(range(ROLL // width + 1) for width in WIDTHS))
        if 0 < sum(n * width for n, width in zip(way, WIDTHS, strict=True)) <= ROLL
    ]
    rows = [list(given) for given in zip(*ways, strict=True)]
    rolls = least_cost([1] * len(ways), rows, list(WANTED), most=[np.inf] * len(ways))
    assert rolls == 453
