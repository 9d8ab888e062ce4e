"""A device of 40 × 80 above a duct 40 wide, and ducts that meet."""

import pytest

from platewright.model.finding import Verdict
from platewright.model.layout import Run

from ..builders import boxes, duct, panel, told, verdict

RULE = "space.duct-overlap"


@pytest.mark.parametrize(("y", "wanted"), [(140.0, "PASS"), (140.01, "PASS"), (139.99, "FAIL")])
def test_body_on_duct(y, wanted):
    here = panel(**boxes((100, y)), layout={"ducts": {"U1": duct(0, 100, 500)}})
    assert verdict(RULE, here) == wanted


@pytest.mark.parametrize(("y", "wanted"), [(152.0, "PASS"), (152.01, "PASS"), (151.99, "FAIL")])
def test_a_cover_over_the_duct_fails_although_the_body_stands_clear(y, wanted):
    here = panel(**boxes((100, y), cover_bottom=12.0), layout={"ducts": {"U1": duct(0, 100, 500)}})
    assert verdict(RULE, here) == wanted


def ducts(one, other):
    return panel(layout={"ducts": {"U1": one, "U2": other}})


@pytest.mark.parametrize(("x", "wanted"), [(40.0, "PASS"), (40.01, "PASS"), (39.99, "FAIL")])
def test_a_duct_meets_another_wall_to_wall(x, wanted):
    upright = duct(0, 0, 400, Run.UPRIGHT)
    assert verdict(RULE, ducts(upright, duct(x, 100, 300))) == wanted


def test_a_mitred_corner_is_no_overlap():
    assert verdict(RULE, ducts(duct(0, 0, 400, Run.UPRIGHT), duct(0, 0, 300))) == "PASS"
    assert verdict(RULE, ducts(duct(0, 0, 400, Run.UPRIGHT), duct(0, 360, 300))) == "PASS"


@pytest.mark.parametrize("y", [0.5, 100.0, 359.0])
def test_a_crossing_or_a_tee_that_overlaps_fails(y):
    assert verdict(RULE, ducts(duct(0, 0, 400, Run.UPRIGHT), duct(0, y, 300))) is Verdict.FAIL


def test_two_ducts_of_one_direction_may_not_overlap():
    found = told(RULE, ducts(duct(0, 0, 300), duct(290, 0, 300)))[0]
    assert found.verdict is Verdict.FAIL
    assert found.measured == 10.0
