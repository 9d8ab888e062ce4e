"""Ten seconds of search against the best that sixty find: cost of the plate, job by job.

The cost is what the search makes small: wire, height, duct, rail pieces and the other aims, in
metres of wire. Baseline: the best plate of the job, over both budgets; the limit is 2 % above.
"""

from __future__ import annotations

import sys
from pathlib import Path

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.app.plans.plan import Budget, plan
from platewright.arrange.arranger import from_layout
from platewright.arrange.task import Standing, task_for
from platewright.model.job import Job
from platewright.model.layout import Layout

SIZES = (60, 120, 300)
LIMIT = 1.02
LONGER = 6.0


def rows(
    data: Path | None = None,  # noqa: ARG001  (one form for all)
    *,
    seeds: int = 3,
    seconds: float = 10.0,
) -> list[dict[str, object]]:
    """Return the worst ratio of each size for cost and for wire."""
    made: list[dict[str, object]] = []
    for devices in SIZES:
        costs, wires = [], []
        for seed in range(1, seeds + 1):
            job = generated_job(devices, seed=seed, wires=1000 if devices == 300 else None)
            short, long = (_planned(job, seed, s) for s in (seconds, LONGER * seconds))
            costs.append(short[0] / min(short[0], long[0]))
            wires.append(short[1] / min(short[1], long[1]))
            told = f"cost {costs[-1]:.4f}, wire {wires[-1]:.4f} of the better"
            print(
                f"{devices} devices, seed {seed}: {told}; {short[2]} and {long[2]} moves",
                file=sys.stderr, flush=True,
            )  # fmt: skip
        made += [
            _row(f"ten_vs_sixty_{devices}", max(costs), LIMIT, "most allowed, cost"),
            _row(f"ten_vs_sixty_{devices}_wire", max(wires), LIMIT, "most allowed, wire"),
        ]
    return made


def _planned(job: Job, seed: int, seconds: float) -> tuple[float, float, int]:
    """Return cost and wire of a plan as the search prices them, mm, and the moves tried."""
    planned = plan(
        job, Layout(), seed=seed, budget=Budget(seconds=seconds), progress=lambda _s, _t: True
    )
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    read = from_layout(task, planned.panel.layout)
    if read is None:
        raise AssertionError
    return read.found.cost, read.found.wire, planned.tried


def _row(name: str, value: float, baseline: float, baseline_is: str) -> dict[str, object]:
    return {
        "name": name, "value": value, "unit": "ratio", "baseline": baseline,
        "ratio": value / baseline, "baseline_is": baseline_is,
    }  # fmt: skip
