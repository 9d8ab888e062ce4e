"""Rail centre of rail devices."""

import pytest

from platewright.model.part import Mount

from ..builders import boxes, panel, told, verdict

RULE = "data.rail-center"


@pytest.mark.parametrize(("centre", "wanted"), [(0.0, "PASS"), (45.0, "PASS"), (None, "UNDECIDED")])
def test_centre(centre, wanted):
    here = panel(**boxes((1, 1), mount=Mount.RAIL, rail_center=centre))
    assert verdict(RULE, here) == wanted
    assert told(RULE, here)[0].rule.id == RULE


def test_screwed_devices_are_not_asked():
    assert verdict(RULE, panel(**boxes((1, 1)))) == "NOT_APPLICABLE"
