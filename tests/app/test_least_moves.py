"""A drilled plate is planned again with as little moved as is found."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generated_jobs import generated_job
from platewright.app.plans.least_moves import least_of, tries_for
from platewright.app.plans.plan import Budget, plan
from platewright.app.plans.stays import must_stand, options
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout
from platewright.model.part import Mount

_PLATE = generated_job(20, seed=4)


def _planned(job: Job, before: Layout, moves: int = 8_000) -> Layout:
    found = plan(job, before, seed=1, budget=Budget(moves=moves), progress=lambda _s, _t: True)
    return found.panel.layout


def _drilled(plate: Job) -> Layout:
    layout = _planned(plate, Layout(), 20_000)
    holes = {t: replace(h, state=HoleState.DRILLED) for t, h in layout.holes.items()}
    return replace(layout, holes=holes)


@pytest.fixture(scope="module")
def drilled() -> Layout:
    return _drilled(_PLATE)


def _wider(tag: str, by: float, plate: Job = _PLATE) -> Job:
    part = replace(plate.part_of(tag), part="wide", width=plate.part_of(tag).width + by)
    device = replace(plate.devices[tag], part="wide")
    return replace(
        plate, parts={**plate.parts, "wide": part}, devices={**plate.devices, tag: device}
    )


@pytest.mark.parametrize("tag", ["-S2", "-R20", "-B8"])
def test_a_wider_part_moves_few_neighbours(tag: str, drilled: Layout) -> None:
    """Eighteen of the twenty hang on rails and could all move; their own row has no room left."""
    after = _planned(_wider(tag, 18.0), drilled)
    moved = {t for t, at in drilled.devices.items() if (after.devices[t].x, after.devices[t].y) != (at.x, at.y)}  # fmt: skip
    assert 1 <= len(moved) <= 4
    assert set(after.holes) == set(drilled.holes)


def test_what_is_let_go_is_let_go_for_need() -> None:
    """Any one of them put back where it stood asks for more new holes, or leaves no room that is soon found."""
    plate = generated_job(20, seed=5)  # tight: a wider breaker needs room that others have
    drilled = _drilled(plate)
    job = _wider("-B14", 18.0, plate)
    must = must_stand(job, drilled)
    kept = {t: at for t, at in drilled.devices.items() if t != "-B14"}
    found = least_of(tries_for(job, drilled, must, kept))
    assert found is not None
    holes = tries_for(job, drilled, must, found.devices).outcome(()).holes
    freed = set(kept) - set(found.devices)
    assert freed
    assert not freed & set(must.devices)
    for tag in sorted(freed):
        back = {**found.devices, tag: drilled.devices[tag]}
        again = tries_for(job, drilled, must, back).outcome(())
        assert again.holes > holes


def test_a_device_whose_part_was_changed_is_let_go(drilled: Layout) -> None:
    """It may have grown into what stands beside it; layout.toml tells what it was."""
    tag = next(t for t in sorted(drilled.devices) if _PLATE.part_of(t).mount is Mount.RAIL)
    assert drilled.devices[tag].part == _PLATE.devices[tag].part
    part = replace(_PLATE.part_of(tag), part="other")
    device = replace(_PLATE.devices[tag], part="other")
    job = replace(
        _PLATE, parts={**_PLATE.parts, "other": part}, devices={**_PLATE.devices, tag: device}
    )
    first, *_ = options(job, drilled)
    assert set(drilled.devices) - set(first.devices) == {tag}
    same, *_ = options(_PLATE, drilled)
    assert set(same.devices) == set(drilled.devices)
