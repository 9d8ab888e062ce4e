"""The main job at 300 devices and 1000 wires: read, plan, check, help.

Baselines: Python's own ``csv`` reader for the list of wires, list order for wire, a bare start of
Python for the help; limits: the budget, and a fifth of a second between two words of progress.
"""

from __future__ import annotations

import csv
import io
import subprocess
import sys
import time
from pathlib import Path

import numpy as np

from generated_jobs import generated_job
from platewright.app.gather import panel_of
from platewright.app.plans.heartbeat import beating
from platewright.app.plans.plan import Budget, plan
from platewright.jobfile.tables_csv import read_table
from platewright.model.finding import Verdict
from platewright.model.layout import Layout
from platewright.model.wire import Wire
from platewright.rules.registry import run_rules

ROOT = Path(__file__).resolve().parents[1]
GAP = 0.2  # s between two words of progress


def rows(data: Path | None = None) -> list[dict[str, object]]:  # noqa: ARG001
    """Return rows of name, value, unit, baseline, ratio."""
    job = generated_job(300, seed=1, wires=1000)
    heard = [begin := time.perf_counter()]

    def progress(_share: float, _text: str) -> bool:
        heard.append(time.perf_counter())
        return True

    with beating(progress) as told:
        planned = plan(job, Layout(), seed=1, budget=Budget(seconds=10), progress=told)
    took = time.perf_counter() - begin
    gaps = np.diff([*heard, time.perf_counter()])
    read, plain = _reading()
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
        _row("progress_gap_98_of_100_s", float(np.quantile(gaps, 0.98)), "s", GAP),
        _row("progress_gap_worst_s", float(gaps.max()), "s", GAP),
        _row("read_1000_wires_s", read, "s", plain),
        _row("plan_300_fails", float(fails), "findings", None),
        _row("check_300_s", check, "s", took),
        _row("help_s", helped, "s", bare),
    ]


def _row(name: str, value: float, unit: str, baseline: float | None) -> dict[str, object]:
    ratio = value / baseline if baseline else None
    return {"name": name, "value": value, "unit": unit, "baseline": baseline, "ratio": ratio}


def _reading() -> tuple[float, float]:
    """Return seconds to read 1000 wires with every field checked, and by ``csv`` alone."""
    lines = "".join(f"{n},-Q{n}:1,-Q{n}:2,1.5 mm2,black\n" for n in range(1000))
    text = "number,from,to,size,colour\n" + lines
    begin = time.perf_counter()
    read_table(Wire, text.encode(), file="wires.csv")
    middle = time.perf_counter()
    list(csv.DictReader(io.StringIO(text)))
    return middle - begin, time.perf_counter() - middle


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
