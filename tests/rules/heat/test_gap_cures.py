"""One cure for all gaps of a device; a move is told only where it cures and nothing is hurt."""

import re
from dataclasses import replace

import pytest

from platewright.heat.panel_heat import heat_of
from platewright.model.device import Device
from platewright.model.layout import Placement, Run
from platewright.model.part import Mount

from ..builders import boxes, duct, panel, part, rail, settings, told

GAP, WALL = "heat.heat-gap", "heat.duct-temperature"
SIZE = {"width": 100.0, "height": 115.0, "depth": 90.0, "heat": 120.0, "mount": Mount.SCREWS}
AIR = {"outside": 20.0, "fan": 600.0}


def between(left=None, right=None, above=None, x=300.0, **fields):
    """A warm device with ducts so far from it on its sides."""
    ducts = {}
    if left is not None:
        ducts["D1"] = duct(x - left - 40, 0, 600, Run.UPRIGHT)
    if right is not None:
        ducts["D2"] = duct(x + 100 + right, 0, 600, Run.UPRIGHT)
    if above is not None:
        ducts["D3"] = duct(0, 200 + 115 + above, 800)
    return panel(
        **boxes((x, 200), **(SIZE | fields)), job=settings(air=AIR), layout={"ducts": ducts}
    )


def moved(of, by):
    at = of.layout.devices["-A1"]
    devices = {**of.layout.devices, "-A1": Placement(x=at.x + by[0], y=at.y + by[1])}
    return replace(of, layout=replace(of.layout, devices=devices))


MOVE = re.compile(r"move it ([\d.]+) mm (left|right|up|down)")
WAYS = {"left": (-1, 0), "right": (1, 0), "up": (0, 1), "down": (0, -1)}


@pytest.mark.parametrize("rule", [GAP, WALL])
def test_the_move_told_cures(rule):
    here = between(right=20.0)
    (found,) = [f for f in told(rule, here) if f.cure]
    far, way = MOVE.search(found.cure).groups()
    after = moved(here, [float(far) * each for each in WAYS[way]])
    assert way == "left"
    assert {f.verdict.name for f in told(GAP, after)} <= {"PASS", "NOT_APPLICABLE"}


def test_opposite_gaps_are_one_cure_without_a_move():
    here = between(left=25.0, right=20.0)
    (found,) = [f for f in told(GAP, here) if f.cure]
    assert not MOVE.search(found.cure)
    assert "more left" in found.cure
    assert "more right" in found.cure
    assert "also left of -A1" in found.message
    (wall,) = [f for f in told(WALL, here) if f.cure]
    assert wall.cure in found.cure


@pytest.mark.parametrize(
    "blocked",
    [
        {"left": 60.0, "right": 20.0},  # a duct is in the way, which it would then stand too near
        {"right": 20.0, "x": 10.0},  # off the plate
        {"right": 20.0, "above": 20.0},  # askew
    ],
)
def test_no_move_that_is_impossible_or_not_enough(blocked):
    cures = [f.cure for rule in (GAP, WALL) for f in told(rule, between(**blocked)) if f.cure]
    assert cures
    assert not any(MOVE.search(cure) for cure in cures)


def test_no_move_off_its_rail_or_when_locked():
    hold = {"mount": Mount.RAIL, "rail_center": 50.0}
    here = between(right=20.0, **hold)
    rails = {"R1": rail(295.0, 250.0, 110.0)}
    short = replace(here, layout=replace(here.layout, rails=rails))
    long = replace(here, layout=replace(here.layout, rails={"R1": rail(50.0, 250.0, 355.0)}))
    assert not any(MOVE.search(f.cure) for f in told(GAP, short))
    assert any(MOVE.search(f.cure) for f in told(GAP, long))
    at = {"-A1": Placement(x=300.0, y=200.0, locked=True)}
    locked = replace(here, layout=replace(long.layout, devices=at))
    assert not any(MOVE.search(f.cure) for f in told(GAP, locked))


def test_no_move_onto_another_device():
    here = panel(
        parts=[part("hot", **SIZE), part("cold", width=40.0, height=60.0, depth=40.0)],
        devices=[],
        job=settings(air=AIR),
    )
    free = between(right=20.0)
    others = replace(
        free.job,
        parts={**free.job.parts, "cold": here.job.parts["cold"]},
        devices={
            **free.job.devices,
            "-B1": replace(free.job.devices["-A1"], tag="-B1", part="cold"),
        },
    )
    devices = {**free.layout.devices, "-B1": Placement(x=255.0, y=220.0)}
    crowded = replace(free, job=others, layout=replace(free.layout, devices=devices))
    assert heat_of(crowded).facings
    assert not any(MOVE.search(f.cure) for f in told(GAP, crowded))
    assert any(MOVE.search(f.cure) for f in told(GAP, free))


@pytest.mark.parametrize("rule", [GAP, WALL])
def test_the_same_plan_again_is_no_cure(rule):
    """It gives the same plate. What helps: cooler air, a shield, less loss, another duct or plate."""
    (found,) = [f for f in told(rule, between(left=25.0, right=20.0)) if f.cure]
    assert "run plan again" not in found.cure
    for way in ("Cool the air", "shield it", "less loss", "a metal duct", "plan --compare"):
        assert way in found.cure


def test_no_duct_is_told_where_only_a_neighbour_gets_warm():
    """Two devices side by side, the second one bare of ducts: a metal duct would help nobody."""
    parts = [part("hot", **SIZE), part("cool", width=40.0, height=115.0, depth=90.0, heat=0.1)]
    devices = [(Device(tag="-A1", part="hot"), (300.0, 200.0))]
    devices += [(Device(tag="-A2", part="cool"), (415.0, 200.0))]
    devices += [(Device(tag="-A3", part="cool"), (245.0, 200.0))]
    here = panel(parts=parts, devices=devices, job=settings(air=AIR))
    found = [f for f in told(GAP, here) if f.cure]
    assert found
    for one in found:
        assert "metal duct" not in one.cure
        assert "limits.duct_temperature_degc" not in one.cure
