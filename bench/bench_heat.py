"""A full heat update of 150 devices, and the fast model beside the deep check.

Baseline of the time: the same update with every compiled loop run as plain Python. Baselines of
the agreement: what was aimed at.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from fast_heat import agreement, cases, errors_of
from generated_jobs import generated_job
from platewright.heat import contacts, facings, fields, local_air, surface
from platewright.heat.local_air import Constants
from platewright.heat.panel_heat import worked_out
from platewright.model.job import Air
from platewright.model.layout import Duct, Layout, Placement, Run
from platewright.model.panel import Panel
from platewright.model.pieces import CutPlan
from platewright.model.routes import Routes

DEVICES, RUNS, EDGE, DUCT, ROOM = 150, 60, 70.0, 60.0, 40.0
UPDATE = "the same in plain Python; losses, level, air, housings, gaps and all three pictures"
KERNELS = (
    (contacts, "beside"),
    (facings, "walls_beside"),
    (facings, "nearest_sides"),
    (fields, "summed_wakes"),
    (local_air, "inlet_wakes"),
    (local_air, "wake_strengths"),
    (local_air, "left_of_wakes"),
    (surface, "settle"),
)


def panel(devices: int = DEVICES, seed: int = 1) -> Panel:
    """Return an invented panel in rows between ducts, with a fan that keeps it near 45 °C."""
    job = generated_job(devices, seed=seed)
    job = replace(job, settings=replace(job.settings, air=Air(outside=35.0, fan=600.0)))
    width, y = job.settings.plate.width, job.settings.plate.height - 20.0
    places: dict[str, Placement] = {}
    ducts: dict[str, Duct] = {}
    row: list[tuple[str, float]] = []
    x = EDGE
    for tag in [*(device.tag for device in job.on_plate), ""]:
        wide = job.part_of(tag).width if tag else width
        if x + wide > width - EDGE:
            y -= DUCT
            ducts[f"D{len(ducts)}"] = Duct(
                x=10, y=y, length=width - 20, width=DUCT, height=80, run=Run.ACROSS
            )
            high = max(job.part_of(t).height for t, _ in row) + 2 * ROOM
            y -= high
            for name, at in row:
                places[name] = Placement(x=at, y=y + (high - job.part_of(name).height) / 2)
            row, x = [], EDGE
        row.append((tag, x))
        x += wide + 4
    return Panel(
        job=job, layout=Layout(devices=places, ducts=ducts), clear={}, wiring={},
        outer_diameters={}, routes=Routes(wires={}, loads={}), cuts=CutPlan(bars=(), bounds=()),
    )  # fmt: skip


@contextmanager
def plain() -> Iterator[None]:
    """Run every compiled loop of heat as plain Python."""
    kept = [getattr(module, name) for module, name in KERNELS]
    for (module, name), kernel in zip(KERNELS, kept, strict=True):
        setattr(module, name, kernel.py_func)
    try:
        yield
    finally:
        for (module, name), kernel in zip(KERNELS, kept, strict=True):
            setattr(module, name, kernel)


def median_ms(of: Panel, runs: int) -> float:
    """Return the median time of a full update after warm-up, ms of this thread's own time."""
    worked_out(of)
    spent = []
    for _ in range(runs):
        start = time.thread_time()
        worked_out(of)
        spent.append((time.thread_time() - start) * 1000)
    return statistics.median(spent)


def rows(data: Path | None = None) -> list[dict[str, str | float]]:  # noqa: ARG001  (one form for all)
    """Return the measured rows."""
    here = panel()
    fast = median_ms(here, RUNS)
    with plain():
        slow = median_ms(here, 3)
    held = [case for case in cases() if not case.is_fitting]
    found = agreement(errors_of(held, Constants.from_table()))
    return [
        row("update_150_ms", fast, "ms", slow) | {"baseline_is": UPDATE},
        row("fast_vs_deep_rms_k", found.rms, "K", 4.0),
        row("fast_vs_deep_unsafe_share", found.unsafe, "share", 0.03),
        row("fast_vs_deep_bias_k", found.bias, "K", 1.5),
    ]


def row(name: str, value: float, unit: str, baseline: float) -> dict[str, str | float | None]:
    """Return one row as the bench prints it."""
    ratio = value / baseline if baseline else None
    return {"name": name, "value": value, "unit": unit, "baseline": baseline, "ratio": ratio}


if __name__ == "__main__":
    for each in rows(None):
        print(each)
