"""Terminals are drawn to the side where the field's cables come in, where the job says it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.app.plans.plan import Budget, plan
from platewright.app.plans.worth import MEASURES, worth_of, worth_record
from platewright.arrange.arrays import room_for, sums_for
from platewright.arrange.kernels.anneal import anneal
from platewright.arrange.solvers.search import first_fit, priced
from platewright.arrange.task import Standing, frame_for, task_for, uniform_sizes, wiring_for
from platewright.jobfile.folder import read_job
from platewright.model.finding import Verdict
from platewright.model.job import CableEntry, Job
from platewright.model.layout import Layout
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules

from .small_jobs import write_job


def _entering(job: Job, entry: CableEntry | None) -> Job:
    enclosure = replace(job.settings.enclosure, cable_entry=entry)
    return replace(job, settings=replace(job.settings, enclosure=enclosure))


def _planned(job: Job) -> Panel:
    return plan(
        job, Layout(), seed=1, budget=Budget(moves=20_000), progress=lambda _s, _t: True
    ).panel


@pytest.mark.parametrize("entry", list(CableEntry))
def test_terminals_stand_nearer_to_a_stated_entry(entry: CableEntry) -> None:
    job = generated_job(40, seed=1)
    panel = _planned(_entering(job, entry))
    assert not [f for f in run_rules(panel) if f.verdict is Verdict.FAIL]
    unasked = _planned(job)
    as_if_asked = replace(unasked, job=_entering(job, entry))
    near, far = worth_of(panel).entry, worth_of(as_if_asked).entry
    assert near is not None
    assert far is not None
    assert near < far - 20.0


def test_nothing_is_said_or_sought_where_no_entry_is_stated() -> None:
    job = generated_job(25, seed=3)
    panel = _planned(job)
    assert worth_of(panel).entry is None
    assert "entry_mm" not in worth_record(worth_of(panel))
    other = replace(job.settings.aims, entry=50.0)
    same = replace(job, settings=replace(job.settings, aims=other))
    assert _planned(same).layout == panel.layout


def test_the_mean_counts_every_field_conductor() -> None:
    """By hand: two strips, 16 names each; one point of the first is wired: still 8 conductors."""
    job = _entering(generated_job(25, seed=3), CableEntry.BOTTOM)
    panel = _planned(job)
    field = job.field_conductors
    assert set(field) == {t for t, d in job.devices.items() if d.part.startswith("terminal-")}
    used = {(e.device, e.terminal) for w in job.wires for e in (w.start, w.end)}
    total = 0.0
    for tag, count in field.items():
        free = 16 - sum(device == tag for device, _ in used)
        assert count == min(free, 8)
        total += count * (panel.layout.devices[tag].y + 30.0)  # half of 60 mm
    assert worth_of(panel).entry == pytest.approx(total / sum(field.values()))
    assert next(m for m in MEASURES if m.name == "entry").is_aim


@pytest.mark.parametrize("entry", [CableEntry.LEFT, CableEntry.TOP])
def test_a_walk_ends_at_the_full_price(entry: CableEntry) -> None:
    job = _entering(generated_job(40, seed=5), entry)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    sizes = uniform_sizes(task, 4, job.settings.stock.ducts[1])
    data = (task.arrays, wiring_for(task, sizes), frame_for(task, sizes))
    start = first_fit(list(range(task.arrays.free)), task.arrays, data[2])
    room = (
        *(room_for(task.arrays, data[2]) for _ in range(2)),
        *(sums_for(*data) for _ in range(2)),
    )
    tokens, extra = start.tokens.copy(), start.extra.copy()
    best = (tokens.copy(), extra.copy())
    for leg in range(6):
        told = anneal(tokens, extra, *data, room, (300, 9e3, 90.0, leg + 1), best)
        found, _ = priced(start._replace(tokens=best[0], extra=best[1]), *data)
        assert told == pytest.approx((found.violation, found.cost), rel=1e-9, abs=1e-6)


def test_job_toml_states_it_in_one_place(tmp_path: Path) -> None:
    folder = write_job(tmp_path / "pump")
    assert read_job(folder).settings.enclosure.cable_entry is None
    text = (folder / "job.toml").read_text(encoding="utf-8")
    text = text.replace("[enclosure]\n", '[enclosure]\ncable_entry = "bottom"\n')
    (folder / "job.toml").write_text(text, encoding="utf-8")
    assert read_job(folder).settings.enclosure.cable_entry is CableEntry.BOTTOM
