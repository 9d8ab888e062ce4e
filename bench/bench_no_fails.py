"""Plans of generated jobs, judged by the independent checks: how many findings FAIL.

Jobs of 25, 60, 120 and 300 devices with regions to keep free, a locked switch, chains, wide gaps
between voltage groups and clear space that follows from heat; 300 devices have 1000 wires.
"""

from __future__ import annotations

import sys
from pathlib import Path

from generated_jobs import generated_job, with_traps
from platewright.app.gather import panel_of
from platewright.app.plans.plan import Budget, plan
from platewright.foundation.errors import CannotPlan
from platewright.model.finding import Finding, Verdict
from platewright.rules.registry import run_rules

SIZES = (25, 60, 120, 300)
WIRES_300 = 1000


def rows(
    data: Path | None = None,  # noqa: ARG001  (one form for all)
    *,
    seeds: int = 10,
    seconds: float = 10.0,
) -> list[dict[str, object]]:
    """Return for each size how many plans have no FAIL, and the findings that FAIL in all."""
    made: list[dict[str, object]] = []
    for devices in SIZES:
        clean, fails = 0, 0
        for seed in range(1, seeds + 1):
            failed = _failed(devices, seed, seconds)
            clean += failed is not None and not failed
            fails += len(failed or ())
            words = "no plate found" if failed is None else f"{len(failed)} FAIL"
            ids = ", ".join(sorted({f.rule.id for f in failed or ()}))
            print(f"{devices} devices, seed {seed}: {words} {ids}", file=sys.stderr, flush=True)
        made += [
            _row(f"no_fails_{devices}", clean, "plans", seeds, "plans"),
            _row(f"no_fails_{devices}_findings", fails, "findings", None, "none allowed"),
        ]
    return made


def _failed(devices: int, seed: int, seconds: float) -> list[Finding] | None:
    """Return the findings that FAIL on a plan of a generated job; ``None``: none was found."""
    wires = WIRES_300 if devices == 300 else None
    job, layout = with_traps(generated_job(devices, seed=seed, wires=wires), seed)
    budget = Budget(seconds=seconds)
    try:
        planned = plan(job, layout, seed=seed, budget=budget, progress=lambda _s, _t: True)
    except CannotPlan as cannot:
        print(f"  {cannot.problem}", file=sys.stderr)
        return None
    findings = run_rules(panel_of(job, planned.panel.layout))
    return [f for f in findings if f.verdict is Verdict.FAIL]


def _row(
    name: str, value: float, unit: str, baseline: float | None, baseline_is: str
) -> dict[str, object]:
    return {
        "name": name, "value": value, "unit": unit, "baseline": baseline,
        "ratio": value / baseline if baseline else None, "baseline_is": baseline_is,
    }  # fmt: skip
