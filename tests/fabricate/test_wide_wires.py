"""Fingers broken out for wires thicker than the slot of 8 mm (trade values: wide pattern 8)."""

from platewright.fabricate.wide_wires import wide_exits
from platewright.model.geometry import Point
from platewright.model.layout import Duct, Layout, Run
from platewright.model.routes import Route, Routes, Stretch

LAYOUT = Layout(
    ducts={
        "D1": Duct(x=100, y=200, length=500, width=40, height=60, run=Run.ACROSS),
        "D2": Duct(x=60, y=100, length=400, width=40, height=60, run=Run.UPRIGHT),
    }
)


def routes(*wires):
    return Routes(
        wires={
            wire: Route(wire=wire, path=(Point(300, 300), Point(300, 220), Point(80, 220), end),
                        stretches=(Stretch(duct="D1", start=at, end=0), Stretch(duct="D2", start=120, end=30)),
                        run=1, cut=1)
            for wire, at, end in wires
        },
        loads={},
    )  # fmt: skip


def test_thick_wires_get_an_opening_in_the_wall_they_leave_by():
    found = wide_exits(LAYOUT, routes(("1", 200, Point(10, 130))), {"1": 9.8})
    (upper,), (left,) = found["D1"], found["D2"]
    assert (upper.wall, upper.at, upper.wires, upper.thickest) == ("upper", 200, ("1",), 9.8)
    assert (left.wall, left.at) == ("left", 30)


def test_wires_that_pass_between_fingers_need_none():
    given = routes(("1", 200, Point(10, 130)), ("2", 200, Point(10, 130)))
    assert wide_exits(LAYOUT, given, {"1": 8.0, "2": 2.4}) == {}


def test_neighbours_share_an_opening():
    given = routes(("1", 200, Point(10, 130)), ("2", 207, Point(10, 130)))
    (upper,) = wide_exits(LAYOUT, given, {"1": 9.0, "2": 9.8})["D1"]
    assert (upper.wires, upper.thickest) == (("1", "2"), 9.8)
