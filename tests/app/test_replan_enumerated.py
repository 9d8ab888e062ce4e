"""Re-plans of small drilled plates against an enumeration: no fewer new holes are possible.

The enumeration shares nothing with the plan: it reads the drilled rails, lets every rail device
stay or move to any place in any order on any of them, and asks whether all then stand. If they
can, new holes are only those that new screw-mounted parts bring; if not, one more rail with its
two holes is the least there can be.
"""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise, permutations, product

import pytest

from generated_jobs import generated_job
from platewright.app.plans.plan import Budget, plan
from platewright.foundation.errors import CannotPlan
from platewright.model.device import Device
from platewright.model.finding import Verdict
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout
from platewright.model.part import Mount
from platewright.rules.registry import run_rules

_SIZES = ("relay-6", "relay-22", "fuse-18", "terminal-18", "terminal-30", "breaker-45")
_FIXINGS = 2  # a rail is held by two screws at least


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


def _gap(job: Job, left: str, right: str) -> float:
    one, other = job.part_of(left), job.part_of(right)
    return max(one.clear_right or 0.0, other.clear_left or 0.0)


def _rails_suffice(job: Job, before: Layout) -> bool:
    """Try every share of the rail devices among the drilled rails, in every order."""
    tags = [t for t, d in job.devices.items() if job.part_of(d.tag).mount is Mount.RAIL]
    rails = list(before.rails.values())
    for share in product(range(len(rails)), repeat=len(tags)):
        fits = True
        for k, rail in enumerate(rails):
            here = [t for t, r in zip(tags, share, strict=True) if r == k]
            fits = fits and _fit_on(job, here, rail.length)
        if fits:
            return True
    return False


def _fit_on(job: Job, tags: list[str], length: float) -> bool:
    need = sum(job.part_of(t).width for t in tags)
    if need > length:
        return False
    least = min(sum(_gap(job, a, b) for a, b in pairwise(order)) for order in permutations(tags))
    return need + least <= length + 1e-6


def _changed(job: Job, dice: random.Random, *, most: int) -> Job:
    """Remove one device, or add one or two, or swap one part for another."""
    devices = dict(job.devices)
    kind = dice.choice(("add", "add", "swap", "remove and add"))
    if kind != "add":
        gone = dice.choice(sorted(devices))
        if kind == "swap":
            devices[gone] = replace(devices[gone], part=dice.choice(_SIZES))
        else:
            del devices[gone]
    if kind != "swap":
        for k in range(dice.choice((1, 2))):
            if len(devices) < most:
                devices[f"-N{k}"] = Device(tag=f"-N{k}", part=dice.choice(_SIZES), group=("D",))
    return replace(job, devices=devices)


@pytest.mark.parametrize("seed", range(16))
def test_no_fewer_new_holes_are_possible(seed: int) -> None:
    dice = random.Random(seed)
    screwed = dice.choice(((), ("switch",), ("drive-80",)))
    parts = (*screwed, *(dice.choice(_SIZES) for _ in range(4 - len(screwed))))
    job = _job(parts, 420.0)
    before = _drilled(job)
    changed = _changed(job, dice, most=6)
    try:
        after = _planned(changed, before)
    except CannotPlan:
        assert not _rails_suffice(changed, before)
        return
    for tag, hole in before.holes.items():
        assert (after.holes[tag].x, after.holes[tag].y) == (hole.x, hole.y)
    fresh = len(after.holes) - len(before.holes)
    least = 0 if _rails_suffice(changed, before) else _FIXINGS
    assert fresh == least, (seed, fresh, least)


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
    after = _planned(changed, replace(before, devices=spread))
    assert len(after.holes) == len(before.holes)
