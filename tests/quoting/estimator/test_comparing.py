from quoting.estimator import estimate, spec_from_dict
from quoting.estimator.comparing import compare, differences

from .garlands import garland


def made(**changes):
    return estimate(spec_from_dict(garland(**changes)))


def test_a_piece_does_not_differ_from_itself():
    assert list(differences([made(), made()])) == []
    assert compare([made(), made()])[0].said(1) == "length 5.28 m, the same"


def test_variants_stand_side_by_side_against_the_first():
    plain = made(starbursts=[])
    wide = made(width=[[0, 0.6], [1, 0.6]])
    rows = {row.key: row for row in differences([made(), plain, wide])}
    assert rows["starbursts"].said(1) == "starbursts 0, 3 fewer"
    assert rows["starbursts"].said(2) == "starbursts 3, the same"
    assert rows["narrowest"].said(2) == "width at its narrowest 0.6 m, 0.2 m wider"
    assert rows["narrowest"].said(2, units="imperial").endswith("2 ft, 8 in wider")
    assert rows["balloons"].change(2) > 0
    assert "length" not in rows


def test_money_is_said_as_the_page_says_it():
    rows = {row.key: row for row in compare([made(), made(starbursts=[])])}
    assert rows["total"].said(1, money=lambda cents: f"{cents} cents").endswith("cents less")


def test_a_change_too_small_to_say_is_a_touch():
    rows = {row.key: row for row in compare([made(), made(width=[[0, 0.401], [1, 0.7]])])}
    assert rows["narrowest"].said(1, units="imperial").endswith("a touch wider")
