"""Two 30 × 40 buttons of the door."""

import pytest

from platewright.model.device import Device, Place

from ..builders import panel, part, told, verdict

RULE = "space.door-overlap"


def buttons(gap, up=0.0):
    """The second begins ``gap`` right of the first one's right side, ``up`` higher."""
    places = {"-S1": (220.0, 520.0), "-S2": (250.0 + gap, 520.0 + up)}
    devices = [
        (Device(tag=tag, part="P", place=Place.DOOR, door_x=x, door_y=y), None)
        for tag, (x, y) in places.items()
    ]
    return panel(parts=[part("P", width=30.0, height=40.0)], devices=devices)


@pytest.mark.parametrize(
    ("gap", "up", "wanted"),
    [
        (0.0, 0.0, "PASS"),
        (1.0, 0.0, "PASS"),
        (-0.5, 0.0, "FAIL"),
        (-30.0, 40.0, "PASS"),
        (-30.0, 39.0, "FAIL"),
    ],
)
def test_side_by_side_and_one_above_the_other(gap, up, wanted):
    assert verdict(RULE, buttons(gap, up)) == wanted


def test_by_how_much_and_where_to():
    (found,) = told(RULE, buttons(-25.0))
    assert found.measured == 25.0  # by hand: 250 - 225
    assert "-S1 reaches into -S2 of the door by 25 mm" in found.message
    assert "Move -S2 25.0 mm right" in found.cure


def test_one_alone_is_not_applicable():
    assert verdict(RULE, panel()) == "NOT_APPLICABLE"
