"""Door devices with and without a position."""

import pytest

from platewright.model.device import Place

from ..builders import device, panel, part, verdict

RULE = "data.door-position"


@pytest.mark.parametrize(
    ("x", "y", "wanted"),
    [(0.0, 0.0, "PASS"), (None, 0.0, "UNDECIDED"), (0.0, None, "UNDECIDED")],
)
def test_position(x, y, wanted):
    door = device("-P1", place=Place.DOOR, door_x=x, door_y=y)
    assert verdict(RULE, panel(parts=[part()], devices=[(door, None)])) == wanted


def test_no_door_devices():
    assert verdict(RULE, panel()) == "NOT_APPLICABLE"
