"""Mass of screwed devices: blank is not zero."""

import pytest

from platewright.model.part import Mount

from ..builders import boxes, panel, told, verdict

RULE = "data.mass"


@pytest.mark.parametrize(("mass", "wanted"), [(0.0, "PASS"), (14.0, "PASS"), (None, "UNDECIDED")])
def test_mass(mass, wanted):
    assert verdict(RULE, panel(**boxes((1, 1), mass=mass))) == wanted


def test_rail_devices_are_not_asked():
    assert verdict(RULE, panel(**boxes((1, 1), mount=Mount.RAIL))) == "NOT_APPLICABLE"
    assert told(RULE, panel(**boxes((1, 1))))[0].subject == "-A1"
