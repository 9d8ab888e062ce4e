"""A fixing hole at 100, 140, Ø 30 kept free; a hole of 4.2 beside it."""

import pytest

from platewright.model.job import FixingHole

from ..builders import hole, panel, settings, told, verdict

RULE = "fabrication.hole-on-fixing-hole"
JOB = settings(plate={"fixing_holes": (FixingHole(x=100.0, y=140.0),)})


@pytest.mark.parametrize(("x", "wanted"), [(117.1, "PASS"), (117.2, "PASS"), (117.0, "FAIL")])
def test_beside(x, wanted):
    assert verdict(RULE, panel(layout={"holes": {"H1": hole(x, 140)}}, job=JOB)) == wanted


def test_slanting():
    # 12 and 9 away: 15 from the centre, the rim at 12.9
    (found,) = told(RULE, panel(layout={"holes": {"H1": hole(112, 149)}}, job=JOB))
    assert found.measured == pytest.approx(12.9)
    assert found.verdict == "FAIL"
