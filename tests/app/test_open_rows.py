"""After drilling, what fits into no row goes onto the bare plate below or above the ducts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generated_jobs import generated_job
from platewright.app.plans.bench_changes import bench_changes
from platewright.app.plans.plan import Budget, plan
from platewright.foundation.errors import CannotPlan
from platewright.model.device import Device
from platewright.model.finding import Verdict
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout
from platewright.model.panel import Panel, hole_offsets
from platewright.model.wire import End, SizeSystem, Wire, WireSize
from platewright.rules.registry import run_rules

_PARTS = ("terminal-30", "relay-6", "fuse-18", "breaker-45")


def _job(height: float = 600.0) -> Job:
    base = generated_job(6, seed=1, width=420.0, height=height)
    devices = {f"-A{k}": Device(tag=f"-A{k}", part=p, group=("D",)) for k, p in enumerate(_PARTS)}
    return replace(base, devices=devices, wires=())


def _planned(job: Job, before: Layout, moves: int = 4_000) -> Panel:
    budget = Budget(moves=moves)
    return plan(job, before, seed=1, budget=budget, progress=lambda _s, _t: True).panel


def _drilled(layout: Layout) -> Layout:
    holes = {t: replace(h, state=HoleState.DRILLED) for t, h in layout.holes.items()}
    return replace(layout, holes=holes)


@pytest.fixture(scope="module")
def drilled() -> Layout:
    return _drilled(_planned(_job(), Layout()).layout)


def _with(job: Job, tag: str, part: str, terminals: tuple[str, str] | None = None) -> Job:
    device = Device(tag=tag, part=part, group=("D",))
    wires = job.wires
    if terminals:
        wire = Wire(
            number=f"w{tag}", start=End(tag, terminals[0]), end=End("-A3", terminals[1]),
            size=WireSize("1.5", SizeSystem.MM2),
        )  # fmt: skip
        wires = (*wires, wire)
    return replace(job, devices={**job.devices, tag: device}, wires=wires)


def _lowest(layout: Layout) -> float:
    return min(duct.y for duct in layout.ducts.values())


@pytest.mark.parametrize("part", ["drive-80", "drive-160"])
def test_a_new_part_too_tall_for_the_rows_stands_below_the_ducts(
    part: str, drilled: Layout
) -> None:
    job = _with(_job(), "-N1", part, ("U", "2"))  # a wire from its lower side
    panel = _planned(job, drilled)
    after = panel.layout
    assert after.devices["-N1"].y + job.part_of("-N1").height < _lowest(after)
    assert {t: after.devices[t] for t in drilled.devices} == dict(drilled.devices)
    fresh = [hole for tag, hole in after.holes.items() if tag not in drilled.holes]
    assert len(fresh) == len(hole_offsets(job.part_of("-N1"))) == 4
    assert {hole.holds for hole in fresh} == {"-N1"}
    assert not [f.message for f in run_rules(panel) if f.verdict is Verdict.FAIL]
    assert panel.routes.wires["w-N1"].is_routed
    said = list(bench_changes(job, drilled, Layout(), after))
    assert any(line.startswith("new above or below all ducts: -N1") for line in said)


def test_a_new_row_is_opened_with_a_rail_of_its_own(drilled: Layout) -> None:
    """A rail device too tall for the rows brings one rail, held by two screws."""
    job = _with(_job(), "-N1", "supply-80")
    panel = _planned(job, drilled)
    fresh = [hole for tag, hole in panel.layout.holes.items() if tag not in drilled.holes]
    assert len(fresh) == 2
    (rail,) = {hole.holds for hole in fresh}
    assert panel.layout.rails[rail].y < _lowest(panel.layout)
    assert not [f.message for f in run_rules(panel) if f.verdict is Verdict.FAIL]
    # and it can be planned again: the rail, drilled by now, and what hangs on it stay
    again = _planned(job, _drilled(panel.layout)).layout
    assert again.devices == panel.layout.devices
    assert set(again.holes) == set(panel.layout.holes)
    more = _with(job, "-N2", "supply-80")
    both = _planned(more, _drilled(panel.layout))
    assert not [f.message for f in run_rules(both) if f.verdict is Verdict.FAIL]
    assert both.layout.devices["-N1"] == panel.layout.devices["-N1"]


def test_a_rail_that_is_new_is_no_longer_than_saves_holes() -> None:
    """On a wide plate a rail over the whole row asks for more than two screws; one part does not."""
    base = generated_job(6, seed=1, width=900.0, height=600.0)
    devices = {f"-A{k}": Device(tag=f"-A{k}", part=p, group=("D",)) for k, p in enumerate(_PARTS)}
    job = replace(base, devices=devices, wires=())
    bare = _planned(job, Layout()).layout
    (whole,) = {r.length for r in bare.rails.values()}
    assert sum(hole.holds in bare.rails for hole in bare.holes.values()) > 2
    panel = _planned(_with(job, "-N1", "supply-80"), _drilled(bare))
    fresh = [hole for tag, hole in panel.layout.holes.items() if tag not in bare.holes]
    assert len(fresh) == 2
    (rail,) = {hole.holds for hole in fresh}
    assert panel.layout.rails[rail].length < whole / 2
    assert not [f.message for f in run_rules(panel) if f.verdict is Verdict.FAIL]


def test_above_the_ducts_it_is_the_same() -> None:
    """A plate drilled with its rows at the bottom: the bare plate lies above them."""
    low = _drilled(_planned(_job(600.0), Layout()).layout)
    up = 10.0 - _lowest(low) + 2
    low = replace(
        low,
        devices={t: replace(d, y=d.y + up) for t, d in low.devices.items()},
        ducts={t: replace(d, y=d.y + up) for t, d in low.ducts.items()},
        rails={t: replace(d, y=d.y + up) for t, d in low.rails.items()},
        holes={t: replace(d, y=d.y + up) for t, d in low.holes.items()},
    )
    job = _with(_job(560.0), "-N1", "drive-80")
    after = _planned(job, low).layout
    assert after.devices["-N1"].y > max(duct.box.top for duct in after.ducts.values())


def test_without_bare_plate_it_is_said_that_nothing_fits(drilled: Layout) -> None:
    low = _job(600.0 - 300.0)
    down = 300.0
    cut = replace(
        drilled,
        devices={t: replace(d, y=d.y - down) for t, d in drilled.devices.items()},
        ducts={t: replace(d, y=d.y - down) for t, d in drilled.ducts.items()},
        rails={t: replace(d, y=d.y - down) for t, d in drilled.rails.items()},
        holes={t: replace(d, y=d.y - down) for t, d in drilled.holes.items()},
    )
    with pytest.raises(CannotPlan):
        _planned(_with(low, "-N1", "drive-80"), cut, moves=1_000)
