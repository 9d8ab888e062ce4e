"""Wire at 300 devices and 1000 wires against two plain orders, on generated jobs."""

from __future__ import annotations

import sys

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, outer_diameters, panel_of, wiring_spaces
from platewright.app.plans.plan import Budget, plan
from platewright.arrange.arranger import Arrangement, in_list_order, in_order
from platewright.arrange.from_layout import sizes_in
from platewright.arrange.task import Standing, task_for
from platewright.model.finding import Verdict
from platewright.model.job import Job
from platewright.model.layout import Layout
from platewright.rules.registry import run_rules
from platewright.wiring.solvers.route import route_wires

SEEDS = 10
SECONDS = 10.0
MOST_OF_LIST = 0.60  # of the wire in list order
MOST_OF_TIDY = 0.75  # of the wire in the order a tidy builder takes


def _cut(job: Job, arrangement: Arrangement) -> float:
    return route_wires(job, arrangement.layout, outer_diameters(job)).total_cut


def by_type_and_unit(job: Job) -> list[str]:
    """Group, then kind, then the unit a device belongs to: what a tidy builder does."""
    devices = sorted(
        job.on_plate, key=lambda d: (d.group, job.part_of(d.tag).part, d.circuit, d.tag)
    )
    return [d.tag for d in devices]


def rows(seconds: float = SECONDS, seeds: int = SEEDS) -> list[dict[str, object]]:
    """Return the worst ratio of the seeds for both orders, and findings that FAIL in all."""
    against_list, against_tidy, fails, moves = [], [], 0, []
    for seed in range(1, seeds + 1):
        job = generated_job(300, seed=seed, wires=1000)
        planned = plan(
            job, Layout(), seed=seed, budget=Budget(seconds=seconds), progress=lambda _s, _t: True
        )
        task = task_for(
            job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing()
        )
        sizes = sizes_in(planned.panel.layout, job.settings.stock)
        if sizes is None:
            raise AssertionError
        wire = planned.panel.routes.total_cut
        against_list.append(wire / _cut(job, in_list_order(task, sizes)))
        against_tidy.append(wire / _cut(job, in_order(task, sizes, by_type_and_unit(job))))
        panel = panel_of(job, planned.panel.layout)
        fails += sum(f.verdict is Verdict.FAIL for f in run_rules(panel))
        moves.append(planned.tried)
        told = f"{against_list[-1]:.3f} of list order, {against_tidy[-1]:.3f} of type and unit"
        print(f"300 devices, seed {seed}: {told}, {moves[-1]} moves", file=sys.stderr, flush=True)
    return [
        _row("wire_vs_list_300", max(against_list), "share", MOST_OF_LIST, "most allowed"),
        _row("wire_vs_type_unit_300", max(against_tidy), "share", MOST_OF_TIDY, "most allowed"),
        _row("fails_300", float(fails), "findings", None, "none allowed"),
        _row("moves_300_fewest", float(min(moves)), "moves", None, f"{seconds:g} s a seed"),
    ]


def _row(
    name: str, value: float, unit: str, baseline: float | None, baseline_is: str
) -> dict[str, object]:
    ratio = value / baseline if baseline else None
    return {
        "name": name, "value": value, "unit": unit, "baseline": baseline, "ratio": ratio,
        "baseline_is": baseline_is,
    }  # fmt: skip
