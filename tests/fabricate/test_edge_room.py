"""Room of rails and ducts to the plate's edges and fixing circles: plain distances."""

from math import hypot

import pytest

from platewright.fabricate.edge_room import edge_room
from platewright.model.job import FixingHole, Plate
from platewright.model.layout import Duct, Rail, Run

PLATE = Plate(
    width=800, height=600, thickness=2, fixing_holes=(FixingHole(x=20, y=20, keep_out=30),)
)


def test_nearest_edge_and_circle():
    duct = Duct(x=50, y=32, length=700, width=40, height=60, run=Run.ACROSS)
    room = edge_room(duct, PLATE)
    assert (room.edge, room.side) == (32, "lower")
    assert room.fixing == pytest.approx(hypot(30, 12) - 15)


def test_a_rail_takes_its_width():
    """TH35: 17.5 mm each side of its axis (IEC 60715)."""
    room = edge_room(Rail(x=100, y=560, length=600), PLATE)
    assert (room.edge, room.side) == (pytest.approx(22.5), "upper")
    upright = edge_room(Rail(x=760, y=100, length=300, run=Run.UPRIGHT), PLATE)
    assert (upright.edge, upright.side) == (pytest.approx(22.5), "right")


def test_over_the_edge_and_in_the_circle_are_below_zero():
    room = edge_room(Duct(x=-5, y=10, length=80, width=40, height=60, run=Run.ACROSS), PLATE)
    assert room.edge == -5
    assert room.fixing == -15
    bare = Plate(width=800, height=600, thickness=2)
    assert edge_room(Rail(x=1, y=100, length=9), bare).fixing is None
