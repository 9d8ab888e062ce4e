"""Heat: blank is not zero."""

import pytest

from ..builders import boxes, panel, told, verdict

RULE = "data.heat"


@pytest.mark.parametrize(("heat", "wanted"), [(0.0, "PASS"), (12.5, "PASS"), (None, "UNDECIDED")])
def test_heat(heat, wanted):
    assert verdict(RULE, panel(**boxes((1, 1), heat=heat))) == wanted


def test_one_finding_a_device():
    found = told(RULE, panel(**boxes((1, 1), (99, 1))))
    assert [one.subject for one in found] == ["-A1", "-A2"]
    assert "heat_w" in found[0].cure
