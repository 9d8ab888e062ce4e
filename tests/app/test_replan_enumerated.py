"""Re-plans of small drilled plates against every plate there could be (``enumerated``).

No plate that the checks let pass has fewer new holes, or as few and fewer moved devices.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from generated_jobs import generated_job
from platewright.app.plans.plan import Budget, plan
from platewright.foundation.errors import CannotPlan
from platewright.model.device import Device
from platewright.model.finding import Verdict
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout, Placement, Rail
from platewright.model.part import Mount
from platewright.rules.registry import run_rules

from .enumerated import Plates, moved, new_holes, wrong

_HUNG = ("relay-22", "fuse-18", "terminal-30", "breaker-45", "breaker-54", "contactor-45")
_SCREWED = ("switch", "drive-80")
_WIDTHS = (260.0, 300.0, 340.0, 420.0)
_MOST = 6  # devices of a job
_SEEDS = range(36)


def _job(parts: tuple[str, ...], width: float) -> Job:
    """Return a job of these parts, all of one voltage group, on a plate of this width."""
    base = generated_job(6, seed=1, width=width, height=600.0)
    devices = {f"-A{k}": Device(tag=f"-A{k}", part=p, group=("D",)) for k, p in enumerate(parts)}
    return replace(base, devices=devices, wires=())


def _planned(job: Job, before: Layout) -> Layout:
    budget = Budget(moves=6_000)
    panel = plan(job, before, seed=1, budget=budget, progress=lambda _s, _t: True).panel
    assert not [f.message for f in run_rules(panel) if f.verdict is Verdict.FAIL]
    return panel.layout


def _drilled(job: Job) -> Layout:
    layout = _planned(job, Layout())
    holes = {t: replace(h, state=HoleState.DRILLED) for t, h in layout.holes.items()}
    return replace(layout, holes=holes)


def _spread(job: Job, before: Layout, dice: random.Random) -> Layout:
    """Return the plate with the devices of each rail anywhere on it, in their order."""
    devices = dict(before.devices)
    for rail in before.rails.values():
        here = sorted(_on(job, before, rail), key=lambda tag: devices[tag].x)
        slack = rail.length - sum(job.part_of(tag).width for tag in here)
        used = rail.x
        for tag, gap in zip(here, sorted(dice.uniform(0, slack) for _ in here), strict=True):
            devices[tag] = replace(devices[tag], x=round(used + gap, 1))
            used += job.part_of(tag).width
    return replace(before, devices=devices)


def _on(job: Job, layout: Layout, rail: Rail) -> list[str]:
    return [
        tag
        for tag, at in layout.devices.items()
        if job.part_of(tag).mount is Mount.RAIL
        and abs(at.y + (job.part_of(tag).rail_center or 0.0) - rail.y) < 0.5
        and rail.x - 0.5 <= at.x < rail.x + rail.length
    ]


def _changed(job: Job, dice: random.Random) -> Job:
    """Remove one device and add others, or add one or two, or swap one part for another."""
    devices = dict(job.devices)
    kind = dice.choice(("add", "add", "swap", "swap", "remove and add"))
    pool = (*_HUNG, *_SCREWED) if dice.random() < 0.4 else _HUNG
    if kind != "add":
        gone = dice.choice(sorted(devices))
        if kind == "swap":
            devices[gone] = replace(devices[gone], part=dice.choice(pool))
        else:
            del devices[gone]
    if kind != "swap":
        for k in range(dice.choice((1, 2))):
            if len(devices) < _MOST:
                devices[f"-N{k}"] = Device(tag=f"-N{k}", part=dice.choice(pool), group=("D",))
    return replace(job, devices=devices)


def _case(seed: int) -> tuple[Job, Layout]:
    """Return a changed job and its drilled plate, on which nothing was wrong."""
    dice = random.Random(seed)
    screwed = dice.choice(((), ("switch",), ("drive-80",)))
    parts = (*screwed, *(dice.choice(_HUNG) for _ in range(5 - len(screwed))))
    job = _job(parts, dice.choice(_WIDTHS))
    packed = _drilled(job)
    # spread too near to what keeps its distance: as it was planned
    spread = _spread(job, packed, dice)
    return _changed(job, dice), packed if wrong(job, spread)[0] else spread


@pytest.mark.parametrize("seed", _SEEDS)
def test_no_plate_has_fewer_new_holes_nor_as_few_and_fewer_moved_devices(seed: int) -> None:
    job, before = _case(seed)
    try:
        after = _planned(job, before)
    except CannotPlan:
        assert Plates(job, before).on_drilled_rails() is None
        return
    for tag, hole in before.holes.items():
        assert (after.holes[tag].x, after.holes[tag].y) == (hole.x, hole.y)
    better = Plates(job, before, after).better()
    assert better is None, (
        f"{new_holes(before, better)} instead of {new_holes(before, after)} new holes, "
        f"{moved(job, before, better)} instead of {moved(job, before, after)} moved"
    )


def test_the_cases_are_not_all_easy() -> None:
    """Among them are such that move devices, and such that must drill."""
    moves, holes = 0, 0
    for seed in _SEEDS[::4]:
        job, before = _case(seed)
        try:
            after = _planned(job, before)
        except CannotPlan:
            continue
        moves += bool(moved(job, before, after))
        holes += bool(new_holes(before, after))
    assert moves >= 1
    assert holes >= 1


def test_the_enumeration_finds_a_plate_that_is_better() -> None:
    """A plan that moves a device for nothing, or brings a rail for nothing, is beaten."""
    job = _job(("breaker-45", "relay-22", "fuse-18"), 420.0)
    before = _drilled(job)
    assert Plates(job, before, before).better() is None
    at = before.devices["-A1"]
    aside = replace(before, devices={**before.devices, "-A1": replace(at, x=at.x + 100.0)})
    found = Plates(job, before, aside).better()
    assert found is not None
    assert not moved(job, before, found)
    added = replace(job, devices={**job.devices, "-N0": Device(tag="-N0", part="fuse-18", group=("D",))})  # fmt: skip
    rail = Rail(x=100.0, y=150.0, length=60.0)
    devices = {**before.devices, "-N0": Placement(x=110.0, y=105.0, part="fuse-18")}
    wasteful = Plates(added, before).with_holes(devices, [rail])
    assert new_holes(before, wasteful) == 2
    found = Plates(added, before, wasteful).better()
    assert found is not None
    assert new_holes(before, found) == 0


def test_moving_along_a_rail_is_found_where_leaving_all_would_ask_for_another() -> None:
    """Four parts stand spread over a rail; a fifth fits on it only if they close up."""
    job = _job(("breaker-45",) * 4, 420.0)
    before = _drilled(job)
    rail = max(before.rails.values(), key=lambda r: r.length)
    gap = (rail.length - 4 * 45.0) / 5
    assert 10.0 < gap < 54.0
    assert rail.length > 4 * 45.0 + 54.0
    spread = {
        tag: replace(at, x=round(rail.x + gap + k * (45.0 + gap)), y=rail.y - 45.0)
        for k, (tag, at) in enumerate(sorted(before.devices.items()))
    }
    fifth = Device(tag="-N0", part="breaker-54", group=("D",))
    changed = replace(job, devices={**job.devices, "-N0": fifth})
    there = replace(before, devices=spread)
    after = _planned(changed, there)
    assert len(after.holes) == len(before.holes)
    assert len(moved(changed, there, after)) == 1  # one step aside makes a gap of two
    assert Plates(changed, there, after).better() is None


def test_holes_that_lie_idle_are_a_seat() -> None:
    """A screw-mounted device goes, one of its pattern comes: it takes the place, no hole is new."""
    job = _job(("switch", "breaker-45", "fuse-18", "drive-80"), 420.0)
    before = _drilled(job)
    devices = {tag: device for tag, device in job.devices.items() if tag != "-A0"}
    devices["-N0"] = Device(tag="-N0", part="switch", group=("D",))
    changed = replace(job, devices=devices)
    after = _planned(changed, before)
    assert new_holes(before, after) == 0
    assert not moved(changed, before, after)
    assert (after.devices["-N0"].x, after.devices["-N0"].y) == (
        before.devices["-A0"].x,
        before.devices["-A0"].y,
    )
