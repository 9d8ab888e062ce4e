"""The main job at 300 devices and 1000 wires: plan, check, help. Baselines: list order; import."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

from generated_jobs import generated_job
from platewright.app.gather import panel_of
from platewright.app.plans.plan import Budget, plan
from platewright.model.finding import Verdict
from platewright.model.layout import Layout
from platewright.rules.registry import run_rules

ROOT = Path(__file__).resolve().parents[1]


def rows(data: Path | None = None) -> list[dict[str, object]]:  # noqa: ARG001
    """Return rows of name, value, unit, baseline, ratio."""
    job = generated_job(300, seed=1, wires=1000)
    begin = time.perf_counter()
    planned = plan(job, Layout(), seed=1, budget=Budget(seconds=10), progress=lambda _s, _t: True)
    took = time.perf_counter() - begin
    wire = planned.panel.routes.total_cut / 1000
    base = planned.baseline.routes.total_cut / 1000
    run_rules(planned.panel)
    begin = time.perf_counter()
    findings = run_rules(panel_of(job, planned.panel.layout))
    check = time.perf_counter() - begin
    fails = sum(f.verdict is Verdict.FAIL for f in findings)
    helped, bare = _best(["-m", "platewright", "--help"]), _best(["-c", "pass"])
    return [
        _row("plan_300_wire_m", wire, "m", base),
        _row("plan_300_10s_took_s", took, "s", 10.0),
        _row("plan_300_fails", float(fails), "findings", None),
        _row("check_300_s", check, "s", took),
        _row("help_s", helped, "s", bare),
    ]


def _row(name: str, value: float, unit: str, baseline: float | None) -> dict[str, object]:
    ratio = value / baseline if baseline else None
    return {"name": name, "value": value, "unit": unit, "baseline": baseline, "ratio": ratio}


def _best(words: list[str]) -> float:
    times = []
    for _ in range(5):
        begin = time.perf_counter()
        subprocess.run(
            [sys.executable, *words], check=True, capture_output=True, cwd=ROOT,
            env={"PYTHONPATH": str(ROOT / "src"), "PATH": "/usr/bin:/bin"},
        )  # fmt: skip
        times.append(time.perf_counter() - begin)
    return min(times)
