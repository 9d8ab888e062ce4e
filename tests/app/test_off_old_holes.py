"""New holes keep apart from old ones, where the device need only stand a little aside for it.

Judged by hand-worked distances: three diameters of the larger hole, centre to centre (the usual
spacing in thin sheet, shop practice).
"""

from dataclasses import replace
from math import hypot
from pathlib import Path

import pytest

from platewright.app.check import read_folder
from platewright.app.plans.off_old_holes import off_old_holes
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout, Placement

EXAMPLE = Path(__file__).parents[2] / "examples" / "bottle-rinser"
DRILL = 3.3  # of M4


def _changed(wider: float) -> tuple[Job, Layout]:
    """The converter alone on its drilled plate, then one with a wider pattern in its place."""
    job = read_folder(EXAMPLE).job
    one = place_holes(job, Layout(devices={"-T3": Placement(x=300, y=500)}))
    holes = {
        tag: replace(hole, state=HoleState.DRILLED, holds="") for tag, hole in one.holes.items()
    }
    part = job.part_of("-T3")
    width = (part.hole_pattern_width or 0.0) + wider
    wide = replace(part, part="wide", hole_pattern_width=width)  # the body as wide as before
    device = replace(job.devices["-T3"], part="wide")
    job = replace(job, parts={**job.parts, "wide": wide}, devices={**job.devices, "-T3": device})
    return job, replace(one, holes=holes)


def _least(layout: Layout) -> float:
    """The least distance of a new hole and an old one."""
    old = [hole for hole in layout.holes.values() if hole.state is HoleState.DRILLED]
    new = [hole for hole in layout.holes.values() if hole.holds == "-T3"]
    return min(hypot(a.x - b.x, a.y - b.y) for a in old for b in new)


@pytest.mark.parametrize("wider", [6.0, 10.0, 14.0])
def test_a_device_is_put_aside_of_old_holes(wider: float) -> None:
    job, layout = _changed(wider)
    planned = place_holes(job, layout)
    assert _least(planned) < 3 * DRILL
    after = off_old_holes(job, planned, layout.holes)
    assert _least(after) >= 3 * DRILL - 1e-6
    old, new = planned.devices["-T3"], after.devices["-T3"]
    assert 0 < hypot(new.x - old.x, new.y - old.y) <= 16
    drilled = {tag: hole for tag, hole in after.holes.items() if hole.holds == ""}
    assert drilled == layout.holes


def test_it_stays_where_it_is_locked_or_far_enough_or_on_its_own_drilled_holes() -> None:
    job, layout = _changed(6.0)
    locked = replace(layout, devices={"-T3": replace(layout.devices["-T3"], locked=True)})
    far = replace(layout, devices={"-T3": Placement(x=100, y=200)})
    for before in (locked, far):
        planned = place_holes(job, before)
        assert off_old_holes(job, planned, before.holes) == planned
    planned = place_holes(job, layout)
    own = {
        tag: replace(hole, state=HoleState.DRILLED) if hole.holds == "-T3" else hole
        for tag, hole in planned.holes.items()
    }
    held = replace(planned, holes=own)
    assert off_old_holes(job, held, held.holes) == held


def test_bare_plates_change_nothing() -> None:
    job, layout = _changed(6.0)
    bare = place_holes(job, replace(layout, holes={}))
    assert off_old_holes(job, bare, {}) == bare


def test_it_stays_between_neighbours() -> None:
    """Hemmed in on all sides: the caution stays, and nothing is pushed into another."""
    job, layout = _changed(6.0)
    part, other = job.part_of("-T3"), job.part_of("-Q1")
    at = layout.devices["-T3"]
    left = at.x - other.width - (other.cover_right or 0.0) - (part.cover_left or 0.0)
    right = at.x + part.width + (part.cover_right or 0.0) + (other.cover_left or 0.0)
    walls = {"-Q1": Placement(x=left, y=at.y + 40)}
    second = replace(job.devices["-Q1"], tag="-Q91")
    job = replace(job, devices={**job.devices, "-Q91": second})
    walls["-Q91"] = Placement(x=right, y=at.y + 40)
    planned = place_holes(job, replace(layout, devices={**layout.devices, **walls}))
    after = off_old_holes(job, planned, layout.holes)
    assert after.devices["-T3"].x == at.x
