"""Mounting torque of screwed devices."""

import pytest

from platewright.model.part import Mount

from ..builders import boxes, panel, told, verdict

RULE = "data.mount-torque"


@pytest.mark.parametrize(("torque", "wanted"), [(2.5, "PASS"), (None, "UNDECIDED")])
def test_torque(torque, wanted):
    assert verdict(RULE, panel(**boxes((1, 1), mount_torque=torque))) == wanted


def test_rail_devices_are_not_asked():
    assert verdict(RULE, panel(**boxes((1, 1), mount=Mount.RAIL))) == "NOT_APPLICABLE"
    assert "mount_torque_nm" in told(RULE, panel(**boxes((1, 1))))[0].cure
