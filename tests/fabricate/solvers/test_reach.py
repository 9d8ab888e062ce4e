"""Fixings lie where chuck and screwdriver come to: geometry worked out here, tools by the trade.

4.2 mm drill: chuck 48 mm across with 3 mm of air, 50 - 2.5 - 3 = 44.5 mm above a plate of 2.5 mm.
Slimmest blade 6.35 mm with 1.5 mm of air: 4.675 mm from its axis.
"""

from dataclasses import replace
from math import hypot

import pytest

from platewright.fabricate.access import drill_room, driver_room
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.model.geometry import Box
from platewright.model.layout import Duct, HoleState, Layout, Placement, Rail, Run


def away(box, hole):
    dx = max(box.left - hole.x, 0, hole.x - box.right)
    dy = max(box.bottom - hole.y, 0, hole.y - box.top)
    return hypot(dx, dy)


def of(layout, tag):
    return [hole for hole in layout.holes.values() if hole.holds == tag]


def test_rooms_of_the_tools():
    assert driver_room(60) == pytest.approx(6.35 / 2 + 1.5)
    assert driver_room(301) == 21.5
    assert drill_room(4.2, thickness=2.5, height=44) == pytest.approx(5.1)
    assert drill_room(4.2, thickness=2.5, height=60) == 27
    assert drill_room(4.2, thickness=2.5, height=200) == 33


def test_a_rail_is_not_screwed_under_a_device_on_its_own_screws(make_job):
    """The drive stands on the plate from x 380 to 480, over the rail from 100 to 700."""
    job = make_job({"-T1": "drive"})
    rails = {"R1": Rail(x=100, y=300, length=600)}
    free = place_holes(job, Layout(rails=rails))
    body = Box(380, 200, 480, 400)
    assert any(away(body, hole) < 5 for hole in of(free, "R1"))  # where it would lie
    layout = place_holes(job, Layout(rails=rails, devices={"-T1": Placement(x=380, y=200)}))
    assert len(of(layout, "R1")) >= 3
    assert all(away(body, hole) >= 5 for hole in of(layout, "R1"))  # and its washer is free


def test_a_rail_may_be_screwed_under_what_hangs_on_it(make_job):
    job = make_job({"-K1": "block"})
    rails = {"R1": Rail(x=100, y=300, length=100)}
    layout = Layout(rails=rails, devices={"-K1": Placement(x=100, y=260)})
    assert any(
        away(Box(100, 260, 145, 340), hole) == 0 for hole in of(place_holes(job, layout), "R1")
    )


def test_no_fixing_at_a_wall_that_bars_the_screwdriver(make_job):
    """An upright duct stands across the rail's end: 4.675 mm off its wall, never under its base."""
    job = make_job()
    across = Duct(x=118, y=100, length=400, width=40, height=60, run=Run.UPRIGHT)
    rails = {"R1": Rail(x=100, y=300, length=300)}
    assert any(abs(h.x - 137.5) < 1 for h in of(place_holes(job, Layout(rails=rails)), "R1"))
    layout = place_holes(job, Layout(rails=rails, ducts={"D1": across}))
    found = of(layout, "R1")
    assert found
    assert all(away(across.box, hole) >= 4.675 for hole in found)


def test_a_new_hole_lies_where_no_duct_must_come_off(make_job):
    """A short duct is on, its holes drilled; a rail comes, its axis 20 mm beside the wall."""
    job = make_job(thickness=2.5)
    ducts = {"D1": Duct(x=131, y=240, length=30, width=40, height=60, run=Run.ACROSS)}
    rails = {"R1": Rail(x=100, y=300, length=300)}
    before = place_holes(job, Layout(ducts=ducts))
    drilled = {tag: replace(h, state=HoleState.DRILLED) for tag, h in before.holes.items()}
    assert drilled
    bare = place_holes(job, Layout(ducts=ducts, rails=rails))
    assert min(away(ducts["D1"].box, hole) for hole in of(bare, "R1")) == 20
    after = place_holes(job, Layout(ducts=ducts, rails=rails, holes=drilled))
    assert len(of(after, "R1")) == len(of(bare, "R1"))
    assert min(away(ducts["D1"].box, hole) for hole in of(after, "R1")) >= 27  # room of the chuck
