"""A door device 240 wide and 75 deep, 50 from the hinge: its far corner is 300 from it.

By Pythagoras the corner runs on a circle of √(300² + 75²) = 309.23 mm.
"""

import math

import pytest

from platewright.model.device import Place
from platewright.model.job import Side

from ..builders import device, panel, part, settings, told, verdict

RULE = "space.door-swing"
RADIUS = math.hypot(300.0, 75.0)


def beside(x, depth, *, hinge=Side.LEFT, hinge_x=None, door_x=10.0, y=150.0, cover=0.0):
    door = device("-P1", part="hmi", place=Place.DOOR, door_x=door_x, door_y=100.0)
    return panel(
        parts=[
            part(depth=depth, cover_left=cover),
            part("hmi", width=240.0, height=260.0, depth=75.0),
        ],
        devices=[(device("-T3"), (x, y)), (door, None)],
        job=settings(enclosure={"door_inside": 232.0, "hinge": hinge, "hinge_x": hinge_x}),
    )


# plate 800 in an enclosure 900: the hinge lies 50 outside the plate, so the corner is at x 250
def reach(x):
    return 232.0 - math.sqrt(RADIUS**2 - (x + 50.0) ** 2)


@pytest.mark.parametrize("x", [250.0, 253.0, 258.0])
@pytest.mark.parametrize(("more", "wanted"), [(0.0, "PASS"), (-0.1, "PASS"), (0.1, "FAIL")])
def test_left_hinge(x, more, wanted):
    assert verdict(RULE, beside(x, reach(x) + more)) == wanted


def test_at_its_own_edge_the_corner_is_as_deep_as_the_device():
    (found,) = told(RULE, beside(250.0, 200.0))
    assert found.limit == pytest.approx(232.0 - 75.0)


@pytest.mark.parametrize(("x", "wanted"), [(RADIUS - 50, "PASS"), (RADIUS - 50.5, "FAIL")])
def test_beyond_the_circle_nothing_is_met(x, wanted):
    assert verdict(RULE, beside(x, 231.5)) == wanted


def test_the_right_hinge_is_the_mirror():
    left = told(RULE, beside(253.0, 200.0))[0]
    right = told(RULE, beside(800 - 253 - 40, 200.0, hinge=Side.RIGHT, door_x=550.0))[0]
    assert right.limit == pytest.approx(left.limit)
    assert right.verdict == left.verdict == "FAIL"
    assert right.place.right == pytest.approx(800 - left.place.left)


def test_a_stated_hinge_axis_is_used():
    found = told(RULE, beside(253.0, 200.0, hinge_x=-20.0))[0]
    radius = math.hypot(270.0, 75.0)
    assert found.limit == pytest.approx(232.0 - math.sqrt(radius**2 - 273.0**2))


def test_above_and_below_it_nothing_is_met():
    assert verdict(RULE, beside(253.0, 231.0, y=360.0)) == "PASS"


def test_a_cover_reaches_into_the_swept_strip():
    assert verdict(RULE, beside(262.0, 231.0)) == "PASS"
    assert verdict(RULE, beside(262.0, 231.0, cover=8.0)) == "FAIL"


def test_the_place_is_the_swept_strip_beside_the_door_device():
    (left,) = told(RULE, beside(253.0, 200.0))
    assert (left.place.left, left.place.right) == pytest.approx((250.0, RADIUS - 50.0))
    (right,) = told(RULE, beside(507.0, 200.0, hinge=Side.RIGHT, door_x=550.0))
    assert (right.place.left, right.place.right) == pytest.approx((850.0 - RADIUS, 550.0))
