"""A 30 × 40 device on a door that reaches from -50 to 850 and -50 to 650."""

import pytest

from platewright.model.device import Device, Place

from ..builders import panel, part, told, verdict

RULE = "space.door-edge"


def on_door(x, y):
    device = Device(tag="-S1", part="P", place=Place.DOOR, door_x=x, door_y=y)
    return panel(parts=[part("P", width=30.0, height=40.0)], devices=[(device, None)])


@pytest.mark.parametrize(
    ("x", "y", "wanted"),
    [
        (820.0, 100.0, "PASS"),
        (819.0, 100.0, "PASS"),
        (820.5, 100.0, "FAIL"),
        (-50.0, 610.0, "PASS"),
        (-51.0, 100.0, "FAIL"),
        (100.0, 611.0, "FAIL"),
    ],
)
def test_edge_of_the_door(x, y, wanted):
    assert verdict(RULE, on_door(x, y)) == wanted


def test_how_far_is_told():
    (found,) = told(RULE, on_door(2500.0, 100.0))
    assert found.measured == 1680.0  # by hand: 2500 + 30 - 850
