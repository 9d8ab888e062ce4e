"""Wires with a way, without one, and not yet routed."""

import pytest

from platewright.model.device import Device, Place
from platewright.model.routes import Route, Routes

from ..builders import boxes, panel, told, verdict, wire

RULE = "wiring.unreachable"


@pytest.mark.parametrize(
    ("problem", "wanted"),
    [("", "PASS"), ("no duct reaches -A2", "FAIL"), (None, "UNDECIDED")],
)
def test_ways(problem, wanted):
    routes = {}
    if problem is not None:
        routes["7"] = Route(wire="7", path=(), stretches=(), run=100.0, cut=200.0, problem=problem)
    here = panel(
        **boxes((1, 1), (99, 1)),
        wires=[wire("7", "-A1:1", "-A2:1")],
        routes=Routes(wires=routes, loads={}),
    )
    assert verdict(RULE, here) == wanted
    (found,) = told(RULE, here)
    assert problem is None or problem in found.message
    assert wanted == "PASS" or found.place.left == 1


def test_a_wire_to_a_device_without_a_place_is_undecided():
    here = boxes((1, 1), (99, 1))
    devices = [here["devices"][0], (here["devices"][1][0], None)]
    lost = Route(wire="7", path=(), stretches=(), run=0.0, cut=0.0, problem="no place")
    (found,) = told(
        RULE,
        panel(
            parts=here["parts"],
            devices=devices,
            wires=[wire("7", "-A1:1", "-A2:1")],
            routes=Routes(wires={"7": lost}, loads={}),
        ),
    )
    assert found.verdict == "UNDECIDED"
    assert "the place of -A2 is open" in found.message


def test_a_wire_to_a_door_device_whose_place_is_open_is_undecided():
    here = boxes((1, 1))
    lamp = Device(tag="-P1", part=here["parts"][0].part, place=Place.DOOR)
    lost = Route(wire="7", path=(), stretches=(), run=0.0, cut=0.0, problem="not stated")
    (found,) = told(
        RULE,
        panel(
            parts=here["parts"],
            devices=[*here["devices"], (lamp, None)],
            wires=[wire("7", "-A1:1", "-P1:1")],
            routes=Routes(wires={"7": lost}, loads={}),
        ),
    )
    assert found.verdict == "UNDECIDED"
    assert "the place of -P1 is open" in found.message
    assert "door_x_mm and door_y_mm of -P1" in found.cure


def test_before_any_plan_it_is_told_once():
    here = boxes((1, 1))
    wires = [wire(str(n), "-A1:1", "-A1:2") for n in range(9)]
    (found,) = told(
        RULE, panel(parts=here["parts"], devices=[(here["devices"][0][0], None)], wires=wires)
    )
    assert found.verdict == "UNDECIDED"
