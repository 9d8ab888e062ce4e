"""A rail that waits for its holes on a plate in work keeps its ends where nothing made it change."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from platewright.app.plans.plan import Budget, plan
from platewright.app.plans.rails_stay import as_they_were
from platewright.jobfile.folder import read_job
from platewright.model.geometry import Box
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout, Rail, Run
from platewright.model.panel import envelope_box
from platewright.model.part import Mount

EXAMPLE = Path(__file__).parents[2] / "examples" / "bottle-rinser"


@pytest.fixture(scope="module")
def plate() -> tuple[Job, Layout]:
    job = read_job(EXAMPLE)
    told = plan(job, Layout(), seed=2, budget=Budget(moves=20_000), progress=lambda _s, _t: True)
    return job, told.panel.layout


def _is_full(job: Job, layout: Layout, rail: Rail) -> bool:
    """Tell whether a device on the rail reaches to its right end, within the 1 mm to be cut off."""
    return any(
        abs(at.y + (part.rail_center or 0.0) - rail.y) < 0.5
        and rail.x + rail.length - 1 < at.x + part.width <= rail.x + rail.length + 1e-6
        for tag, at in layout.devices.items()
        if (part := job.part_of(tag)).mount is Mount.RAIL
    )


def _cut(layout: Layout, tag: str, by: float) -> Layout:
    rail = layout.rails[tag]
    cut = replace(rail, length=rail.length + by)
    return replace(layout, rails={**layout.rails, tag: cut})


@pytest.mark.parametrize("by", [1.0, -1.0, 4.0])
def test_an_unchanged_plate_has_the_rails_it_had(plate: tuple[Job, Layout], by: float) -> None:
    job, before = plate
    for tag in before.rails:
        assert as_they_were(job, before, _cut(before, tag, by)) == before


def test_a_rail_that_must_reach_further_is_cut_anew(plate: tuple[Job, Layout]) -> None:
    """The former piece ends short of a device that hangs on the new one."""
    job, now = plate
    tag, rail = max(now.rails.items(), key=lambda one: one[1].length)
    last = max(
        at.x + part.width
        for name, at in now.devices.items()
        if (part := job.part_of(name)).mount is Mount.RAIL
        and abs(at.y + (part.rail_center or 0.0) - rail.y) < 0.5
    )
    before = _cut(now, tag, last - 5 - rail.x - rail.length)
    assert as_they_were(job, before, now) == now


def test_a_rail_gives_way_to_what_came_beside_it(plate: tuple[Job, Layout]) -> None:
    """A duct moved to its level: the shorter rail of the new plan stands."""
    job, before = plate
    tag, rail = next(iter(before.rails.items()))
    shorter = _cut(before, tag, -1.0)
    level = Box(rail.x, rail.y - 17.5, rail.x + rail.length, rail.y + 17.5)
    name, duct = next(
        (n, d) for n, d in before.ducts.items() if d.run is Run.UPRIGHT and
        d.box.bottom < level.top and d.box.top > level.bottom
    )  # fmt: skip
    moved = replace(shorter, ducts={**shorter.ducts, name: replace(duct, x=duct.x - 1.0)})
    assert as_they_were(job, before, moved) == moved
    # what moves elsewhere on the plate does no harm
    far, at = next(
        (n, at)
        for n, at in before.devices.items()
        if not envelope_box(job.part_of(n), at).grown(20, 20, 20, 20).overlaps(level)
    )
    away = replace(shorter, devices={**shorter.devices, far: replace(at, x=at.x + 1.0)})
    assert as_they_were(job, before, away).rails == before.rails


def test_two_rails_of_one_line_stay_two(plate: tuple[Job, Layout]) -> None:
    """A former long rail does not come back over two new short ones that carry the same."""
    job, before = plate
    tag, rail = max(before.rails.items(), key=lambda one: one[1].length)
    half = rail.length / 2
    parts = {
        tag: replace(rail, length=half - 1),
        "R90": Rail(x=rail.x + half + 1, y=rail.y, length=half - 1, profile=rail.profile),
    }
    split = replace(before, rails={**before.rails, **parts})
    assert as_they_were(job, before, split) == split


def test_a_new_plan_of_a_plate_in_work_leaves_its_open_rails(plate: tuple[Job, Layout]) -> None:
    """Only rails still wait for their holes; all that are not full were cut 1 mm short."""
    job, layout = plate
    holes = {
        tag: hole if hole.holds in layout.rails else replace(hole, state=HoleState.DRILLED)
        for tag, hole in layout.holes.items()
    }
    before = replace(layout, holes=holes)
    short = [tag for tag, rail in layout.rails.items() if not _is_full(job, layout, rail)]
    assert short
    for tag in short:
        before = _cut(before, tag, -1.0)
    told = plan(job, before, seed=1, budget=Budget(moves=2_000), progress=lambda _s, _t: True)
    after = told.panel.layout
    assert after.rails == before.rails
    drilled = {tag: hole for tag, hole in holes.items() if hole.state is HoleState.DRILLED}
    assert {tag: after.holes[tag] for tag in drilled} == drilled


def test_a_rail_cut_with_no_play_is_laid_anew(plate: tuple[Job, Layout]) -> None:
    """Cut for the whole room up to a body that came there: 0 mm is less than the saw needs."""
    job, now = plate
    tag, rail = next((tag, rail) for tag, rail in now.rails.items() if not _is_full(job, now, rail))
    box = next(name for name in now.devices if job.part_of(name).mount is not Mount.RAIL)
    part, end = job.part_of(box), rail.x + rail.length
    layout = replace(
        now,
        devices={**now.devices, box: replace(now.devices[box], x=end, y=rail.y - part.height / 2)},
    )
    tight, free = layout, _cut(layout, tag, -1.5)
    assert as_they_were(job, tight, free).rails[tag] == free.rails[tag]
    assert as_they_were(job, free, tight).rails[tag] == free.rails[tag]
