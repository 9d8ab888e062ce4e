"""Wires with a way, without one, and not yet routed."""

import pytest

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
