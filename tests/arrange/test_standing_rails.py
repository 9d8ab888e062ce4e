"""Rails that stay are in the way of what lies flat on the plate; what hangs on them is not."""

from __future__ import annotations

import numpy as np
import pytest

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.app.plans.plan import Budget, plan
from platewright.arrange.arranger import from_layout, improve
from platewright.arrange.solvers.search import HOT
from platewright.arrange.task import Standing, Task, task_for
from platewright.model.layout import Layout
from platewright.model.panel import body_box
from platewright.model.part import Mount
from platewright.rules.placed import rail_box

_PLATE = generated_job(20, seed=4)


@pytest.fixture(scope="module")
def planned() -> Layout:
    found = plan(
        _PLATE, Layout(), seed=1, budget=Budget(moves=20_000), progress=lambda _s, _t: True
    )
    return found.panel.layout


def _task(planned: Layout) -> Task:
    """Everything may move but the ducts and the rails."""
    standing = Standing(ducts=planned.ducts, rails=planned.rails)
    return task_for(
        _PLATE, clear=clear_spaces(_PLATE), wiring=wiring_spaces(_PLATE), standing=standing
    )


@pytest.mark.parametrize("seed", range(1, 13))
def test_nothing_lies_across_a_rail_that_stays(seed: int, planned: Layout) -> None:
    start = from_layout(_task(planned), planned)
    assert start is not None
    found = improve(start, moves=4_000, hot=HOT, seed=seed, report=lambda _d, _w: True)
    flat = [
        (tag, body_box(_PLATE.part_of(tag), at))
        for tag, at in found.layout.devices.items()
        if _PLATE.part_of(tag).mount is not Mount.RAIL
    ]
    assert flat
    for tag, box in flat:
        for name, rail in planned.rails.items():
            assert not box.overlaps(rail_box(rail)), f"{tag} lies across {name}"


def test_a_row_keeps_the_axis_of_the_devices_that_stand_in_it(planned: Layout) -> None:
    """Their rail is not drilled, so it may be cut anew; it must still meet them."""
    on_rail = [t for t in planned.devices if _PLATE.part_of(t).mount is Mount.RAIL]
    stand = {tag: planned.devices[tag] for tag in on_rail[::2]}
    standing = Standing(devices=stand, ducts=planned.ducts)
    task = task_for(
        _PLATE, clear=clear_spaces(_PLATE), wiring=wiring_spaces(_PLATE), standing=standing
    )
    start = from_layout(task, planned)
    assert start is not None
    axes = {r.y for r in planned.rails.values()}
    rows = {int(row) for row in start.placed.row[task.arrays.free :]}
    told = {float(start.frame.row_axis[row]) for row in rows}
    assert told
    assert not np.isnan(list(told)).any()
    assert told <= axes
