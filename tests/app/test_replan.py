"""After drilling: no drilled hole moves, and only what the change asks for is drilled anew."""

from __future__ import annotations

import random
from dataclasses import replace
from math import hypot

import pytest

from generated_jobs import generated_job
from platewright.app.plans.plan import Budget, Planned, plan
from platewright.foundation.errors import CannotPlan
from platewright.model.device import Device
from platewright.model.finding import Verdict
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout
from platewright.model.panel import hole_offsets
from platewright.rules.registry import run_rules

_PLATE = generated_job(20, seed=4)


def _planned(job: Job, before: Layout, moves: int = 8_000) -> Planned:
    return plan(job, before, seed=1, budget=Budget(moves=moves), progress=lambda _s, _t: True)


@pytest.fixture(scope="module")
def drilled() -> Layout:
    layout = _planned(_PLATE, Layout(), 20_000).panel.layout
    holes = {t: replace(h, state=HoleState.DRILLED) for t, h in layout.holes.items()}
    return replace(layout, holes=holes)


def _without(job: Job, tags: set[str]) -> Job:
    devices = {t: d for t, d in job.devices.items() if t not in tags}
    wires = tuple(w for w in job.wires if not {w.start.device, w.end.device} & tags)
    return replace(job, devices=devices, wires=wires)


def _changed(seed: int) -> tuple[Job, set[str]]:
    """Remove one device, add two small ones, swap a part; return what is new or swapped."""
    rng = random.Random(seed)
    tags = sorted(_PLATE.devices)
    gone = rng.choice([t for t in tags if _PLATE.part_of(t).width > 40])
    job = _without(_PLATE, {gone})
    new: set[str] = set()
    devices = dict(job.devices)
    if seed % 3:
        for k in range(2):
            devices[f"-N{k + 1}"] = Device(tag=f"-N{k + 1}", part="relay-6", group=("D",))
            new.add(f"-N{k + 1}")
    else:
        tag = rng.choice([t for t in devices if devices[t].part == "relay-22"] or [tags[0]])
        if devices.get(tag) and devices[tag].part == "relay-22":
            devices[tag] = replace(devices[tag], part="relay-6")
            new.add(tag)
    return replace(job, devices=devices), new


@pytest.mark.parametrize("seed", range(30))
def test_a_random_change_moves_no_drilled_hole(seed: int, drilled: Layout) -> None:
    job, new = _changed(seed)
    try:
        after = _planned(job, drilled).panel
    except CannotPlan:
        pytest.fail("the change asks for less room than it frees")
    for tag, hole in drilled.holes.items():
        kept = after.layout.holes[tag]
        assert (kept.x, kept.y, kept.drill, kept.state) == (hole.x, hole.y, hole.drill, hole.state)
    fresh = {t: h for t, h in after.layout.holes.items() if t not in drilled.holes}
    own = sum(len(hole_offsets(job.part_of(tag))) for tag in new)
    rails = {h.holds for h in fresh.values()} - set(job.devices)
    assert sum(h.holds in job.devices for h in fresh.values()) <= own
    # a new rail piece only where a new device found no room on a drilled one
    assert len(rails) <= len(new)
    assert not [f for f in run_rules(after) if f.verdict is Verdict.FAIL]


@pytest.mark.parametrize("seed", range(4))
def test_what_stands_is_left_standing_when_the_rest_fits(seed: int, drilled: Layout) -> None:
    """A device goes, one of the same part comes: it finds the room that was freed."""
    rail = [t for t in sorted(_PLATE.devices) if _PLATE.part_of(t).mount == "rail"]
    gone = rail[seed * len(rail) // 4]
    job = _without(_PLATE, {gone})
    comes = replace(_PLATE.devices[gone], tag="-N1")
    job = replace(job, devices={**job.devices, "-N1": comes})
    after = _planned(job, drilled).panel.layout
    stood = {t: at for t, at in drilled.devices.items() if t != gone}
    assert {t: after.devices[t] for t in stood} == stood
    assert set(after.holes) == set(drilled.holes)


def test_a_swapped_screw_mounted_part_leaves_its_holes_behind(drilled: Layout) -> None:
    tag = next(t for t in _PLATE.devices if _PLATE.devices[t].part.startswith("drive"))
    smaller = replace(_PLATE.devices[tag], part="drive-80")
    if _PLATE.devices[tag].part == "drive-80":
        smaller = replace(_PLATE.devices[tag], part="switch")
    wires = tuple(w for w in _PLATE.wires if tag not in (w.start.device, w.end.device))
    job = replace(_PLATE, devices={**_PLATE.devices, tag: smaller}, wires=wires)
    after = _planned(job, drilled).panel.layout
    old = [t for t, h in drilled.holes.items() if h.holds == tag]
    assert all(after.holes[t].state is HoleState.DRILLED for t in old)
    left_over = [t for t in old if after.holes[t].holds == ""]
    fresh = [h for t, h in after.holes.items() if t not in drilled.holes and h.holds == tag]
    assert len(left_over) + len(fresh) >= len(old)


@pytest.mark.parametrize("seed", range(4))
def test_holes_drilled_somewhat_off_are_the_holes_there_are(seed: int, drilled: Layout) -> None:
    """The same job, its holes measured up to 0.9 mm off: none is left over, none is drilled anew."""
    rng = random.Random(seed)
    off = {
        tag: replace(hole, x=hole.x + rng.uniform(-0.6, 0.6), y=hole.y + rng.uniform(-0.6, 0.6))
        for tag, hole in drilled.holes.items()
    }
    after = _planned(_PLATE, replace(drilled, holes=off)).panel.layout
    assert after.holes == off
    far = {t: hypot(p.x - drilled.devices[t].x, p.y - drilled.devices[t].y)
           for t, p in after.devices.items()}  # fmt: skip
    assert max(far.values()) < 0.9
    for tag, part in ((t, _PLATE.part_of(t)) for t in after.devices if far[t] > 0):
        feet = [
            (after.devices[tag].x + p.x, after.devices[tag].y + p.y) for p in hole_offsets(part)
        ]
        own = [hole for hole in off.values() if hole.holds == tag]
        assert all(min(hypot(h.x - x, h.y - y) for h in own) <= 0.5 for x, y in feet)
