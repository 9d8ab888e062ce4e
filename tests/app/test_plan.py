"""The main job: lists go in, a plate that the checks have measured comes out."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.app.plans.plan import Budget, Planned, plan
from platewright.app.plans.plan_or_explain import plan_or_explain
from platewright.arrange.arrays import Start
from platewright.foundation.errors import CannotPlan
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import layout_text
from platewright.model.finding import Verdict
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout, Run
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def _planned(job: Job, before: Layout | None = None, moves: int = 20_000) -> Planned:
    return plan(
        job, before or Layout(), seed=1, budget=Budget(moves=moves), progress=lambda _s, _t: True
    )


def _fails(panel: Panel) -> list[str]:
    return [
        f"{f.rule.id} {f.subject}: {f.message}"
        for f in run_rules(panel)
        if f.verdict is Verdict.FAIL
    ]


@pytest.mark.parametrize("name", ["bottle-rinser", "packaging-line"])
def test_examples_plan_with_nothing_failing_and_less_wire_than_list_order(name: str) -> None:
    planned = _planned(read_job(EXAMPLES / name), moves=100_000)
    assert _fails(planned.panel) == []
    assert planned.panel.routes.total_cut < 0.85 * planned.baseline.routes.total_cut
    assert set(planned.panel.layout.devices) == {d.tag for d in planned.panel.job.on_plate}


@pytest.mark.parametrize("seed", range(5))
def test_generated_jobs_plan_with_nothing_failing(seed: int) -> None:
    planned = _planned(generated_job(30, seed=seed))
    assert _fails(planned.panel) == []
    assert planned.panel.routes.total_cut < planned.baseline.routes.total_cut


def test_the_deep_converter_stands_clear_of_the_operator_panel() -> None:
    """-T3 (207 mm) fits only where no door device is (232 - 75 = 157 mm)."""
    planned = _planned(read_job(EXAMPLES / "bottle-rinser"))
    at = planned.panel.layout.devices["-T3"]
    part = planned.panel.job.part_of("-T3")
    panel_left, panel_right, panel_low, panel_top = 400.0, 640.0, 700.0, 960.0
    apart_in_x = at.x + part.width <= panel_left or at.x >= panel_right
    apart_in_y = at.y + part.height <= panel_low or at.y - 14.0 >= panel_top  # cover below
    assert apart_in_x or apart_in_y


def test_same_seed_same_bytes() -> None:
    job = generated_job(25, seed=3)
    texts = {layout_text(_planned(job, moves=6000).panel.layout) for _ in range(2)}
    assert len(texts) == 1


def test_the_order_of_the_lists_changes_nothing() -> None:
    job = generated_job(25, seed=3)
    rng = random.Random(1)
    devices, wires = list(job.devices.items()), list(job.wires)
    rng.shuffle(devices)
    rng.shuffle(wires)
    mixed = replace(job, devices=dict(devices), wires=tuple(wires))
    one, other = (_planned(j, moves=6000).panel for j in (job, mixed))
    assert layout_text(one.layout) == layout_text(other.layout)


def test_locked_devices_stay_where_they_are() -> None:
    job = generated_job(25, seed=3)
    first = _planned(job).panel.layout
    tags = sorted(first.devices)[::6]
    held = {
        tag: replace(at, locked=True) if tag in tags else at for tag, at in first.devices.items()
    }
    again = _planned(job, Layout(devices=held), moves=60_000).panel
    for tag in tags:
        assert again.layout.devices[tag] == held[tag]
    assert _fails(again) == []


def test_drilled_holes_never_move() -> None:
    job = generated_job(25, seed=3)
    first = _planned(job).panel.layout
    drilled = {tag: replace(hole, state=HoleState.DRILLED) for tag, hole in first.holes.items()}
    before = replace(first, holes={**first.holes, **drilled})
    swapped = dict(job.devices)
    gone = next(tag for tag in swapped if swapped[tag].part == "relay-22")
    del swapped[gone]
    wires = tuple(w for w in job.wires if gone not in (w.start.device, w.end.device))
    after = _planned(replace(job, devices=swapped, wires=wires), before)
    for tag, hole in drilled.items():
        kept = after.panel.layout.holes[tag]
        assert (kept.x, kept.y, kept.state, kept.size) == (hole.x, hole.y, hole.state, hole.size)
    assert _fails(after.panel) == []


def test_every_hole_and_piece_belongs_to_something() -> None:
    panel = _planned(read_job(EXAMPLES / "packaging-line")).panel
    things = {*panel.layout.devices, *panel.layout.ducts, *panel.layout.rails}
    assert {h.holds for h in panel.layout.holes.values()} <= things
    cut = [p.tag for bar in panel.cuts.bars for p in bar.pieces]
    assert set(cut) == {*panel.layout.ducts, *panel.layout.rails}
    assert len(cut) == 2 * len(panel.layout.ducts) + len(panel.layout.rails)  # base and cover


def test_a_plate_that_is_too_small_is_told_with_the_change_that_cures_it() -> None:
    job = generated_job(25, seed=3)
    plate = replace(job.settings.plate, height=400.0, fixing_holes=())
    small = replace(job, settings=replace(job.settings, plate=plate))
    with pytest.raises(CannotPlan, match="mm of height") as caught:
        plan_or_explain(
            small, Layout(), seed=1, budget=Budget(moves=4000), progress=lambda _s, _t: True
        )
    assert any("mm high" in cure for cure in caught.value.cures)


def test_a_device_deeper_than_the_enclosure_is_named() -> None:
    job = generated_job(12, seed=3)
    enclosure = replace(job.settings.enclosure, door_inside=100.0)
    shallow = replace(job, settings=replace(job.settings, enclosure=enclosure))
    with pytest.raises(CannotPlan, match="the door leaves 100 mm"):
        _planned(shallow, moves=2000)


def test_stopping_keeps_a_legal_plate() -> None:
    job = generated_job(25, seed=3)
    calls = [0]

    def progress(_share: float, _text: str) -> bool:
        calls[0] += 1
        return calls[0] < 60

    planned = plan(job, Layout(), seed=1, budget=Budget(moves=200_000), progress=progress)
    assert planned.stopped
    assert _fails(planned.panel) == []


def test_ducts_grow_until_their_fill_is_within_the_plan() -> None:
    planned = _planned(generated_job(40, seed=2, wires=400))
    limit = planned.panel.job.settings.limits.duct_fill_plan
    assert planned.panel.routes.highest_fill <= limit + 1e-9
    assert len({d.height for d in planned.panel.layout.ducts.values()}) == 1
    assert any(d.run is Run.UPRIGHT for d in planned.panel.layout.ducts.values())


def test_polish_goes_on_from_the_layout_and_never_makes_it_worse() -> None:
    job = generated_job(25, seed=5)
    first = _planned(job, moves=3_000).panel
    again = plan(
        job, first.layout, seed=2, budget=Budget(moves=30_000, polish=True),
        progress=lambda _s, _t: True,
    ).panel  # fmt: skip
    assert _fails(again) == []
    assert again.routes.total_cut <= first.routes.total_cut * 1.02  # height and rails count too
    same = plan(
        job, first.layout, seed=2, budget=Budget(moves=0, polish=True),
        progress=lambda _s, _t: True,
    ).panel  # fmt: skip
    assert same.layout.devices == first.layout.devices


@pytest.mark.parametrize("seed", range(4))
def test_no_row_is_left_empty(seed: int) -> None:
    from platewright.arrange.arranger import probe, resized, without_empty_rows
    from platewright.arrange.task import Standing, task_for, uniform_sizes

    job = generated_job(8, seed=seed, height=3000.0)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    stock = job.settings.stock.ducts[0]
    found = probe(task, stock, moves=400, seed=seed, report=lambda _d, _w: True)
    blocks = [int(t) for t in found.found.start.tokens if t < task.arrays.free]
    n = task.arrays.free
    # rows 1 and 3 of five hold nothing
    half = len(blocks) // 2
    tokens = [*blocks[:half], n, n + 1, *blocks[half:], n + 2, n + 3]
    start = Start(np.array(tokens, dtype=np.int64), np.zeros(5))
    wide = resized(
        replace(found, found=replace(found.found, start=start)), uniform_sizes(task, 5, stock)
    )
    closed = without_empty_rows(wide)
    assert closed.sizes.rows == 2
    assert [int(t) for t in closed.found.start.tokens if t < n] == blocks
    assert set(closed.placed.row.tolist()) == {0, 1}


def test_what_is_proven_is_told_and_the_bound_is_below_the_plan() -> None:
    job = generated_job(12, seed=6)
    planned = plan(
        job, Layout(), seed=1, budget=Budget(moves=4_000, explain=True),
        progress=lambda _s, _t: True,
    )  # fmt: skip
    assert _fails(planned.panel) == []
    assert planned.explained is not None
    assert 0.0 < planned.explained.bound.value <= planned.explained.wire + 1e-6
    assert planned.explained.proven <= planned.explained.windows
