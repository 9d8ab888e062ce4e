"""How good arrangements are: plain orders, known optima, every plate there is, proven bounds.

Baselines are told with each row: how many were asked for, the most allowed, the limit of time,
or the best plate found, for bounds. Times of searches are processor time: both cores counted, and
other work on the machine not.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import orders_300
from bench_page import recheck, written_job
from exhaustive import optimum, read_small
from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.arrays import Blocks, Frame, Wiring
from platewright.arrange.solvers.bounds import wire_bound
from platewright.arrange.solvers.row_order import order_row, proven_row_order
from platewright.arrange.solvers.search import Found, first_fit, search
from platewright.arrange.solvers.windows import improve_windows
from platewright.arrange.task import (
    Standing,
    fewest_rows,
    frame_for,
    task_for,
    uniform_sizes,
    wiring_for,
)
from platewright.model.job import Job
from row_order_values import ANALYTIC, PROVEN, PUBLISHED, Known, known_in

Row = dict[str, object]
Data = tuple[Blocks, Wiring, Frame]
FIVE_SEEDS = range(5)
SMALL_JOBS = 50
SMALL_MOVES = 24_000
SMALL_LIMIT = 0.5  # s that up to 14 devices may take


def rows(
    data: Path | None = None, *, seeds: int = orders_300.SEEDS,
    seconds: float = orders_300.SECONDS,
) -> list[Row]:  # fmt: skip
    """Return all rows; ``data``: a folder of published single-row problems."""
    families: tuple[Callable[[], list[Row]], ...] = (
        lambda: row_order_rows(data),
        exhaustive_rows,
        lambda: orders_300.rows(seconds, seeds),
        recheck_rows,
        bound_rows,
        window_rows,
    )
    return [row for family in families for row in family()]


def row(name: str, value: float, unit: str, baseline: float | None, baseline_is: str = "") -> Row:
    """Return one row as the bench prints it."""
    ratio = value / baseline if baseline else None
    return {
        "name": name, "value": value, "unit": unit, "baseline": baseline, "ratio": ratio,
        "baseline_is": baseline_is,
    }  # fmt: skip


def told(text: str) -> None:
    """Say how far it is, beside the table."""
    print(f"arrange: {text}", file=sys.stderr, flush=True)


def recheck_rows() -> list[Row]:
    """Return how long one live answer takes on a plate of 300 devices, in process."""
    with tempfile.TemporaryDirectory() as parent:
        told("live re-check at 300 devices")
        found = recheck(written_job(Path(parent) / "generated"))
    return [row("recheck_p99_ms", float(found["value"]), "ms", 10.0, "most allowed")]


# ---- one row of devices, published and analytic optima --------------------------------------


def row_order_rows(data: Path | None) -> list[Row]:
    """Return how many known least lengths are reached in time: 1 s, larger published ones 2 s."""
    small = [*ANALYTIC, *(known_in(data, PROVEN) if data else [])]
    large = known_in(data, PUBLISHED) if data else []
    asked = [*PROVEN, *PUBLISHED]
    missing = [name for name in asked if data is None or not (data / name).exists()]
    if missing:
        told(f"{len(missing)} of {len(asked)} files not in --data: {' '.join(missing)}")
    order_row(ANALYTIC[0].widths, ANALYTIC[0].wires)  # compiled before the clock runs
    reached, worst = 0, 0.0
    for known, limit in [*((k, 1.0) for k in small), *((k, 2.0) for k in large)]:
        begin = time.process_time()
        found = order_row(known.widths, known.wires)
        took = time.process_time() - begin
        worst = max(worst, took / limit)
        is_reached = took < limit and abs(found.length - known.value) < 1e-6
        reached += is_reached
        if not is_reached:
            told(f"{known.name}: {found.length:g} in {took:.2f} s, known {known.value:g}")
    tried = len(small) + len(large)
    files = tried - len(ANALYTIC)
    return [
        row("row_order_reached", reached, "values", tried, "analytic and files given"),
        row("row_order_files_read", files, "files", len(asked), "files named"),
        row("row_order_worst", worst, "of limit", 1.0, "1 s; 2 s for large published ones"),
        *_proofs([k for k in small if len(k.widths) <= 20]),
    ]


def _proofs(problems: list[Known]) -> list[Row]:
    begin = time.perf_counter()
    proven = sum(abs(proven_row_order(k.widths, k.wires).length - k.value) < 1e-6 for k in problems)
    took = time.perf_counter() - begin
    return [
        row("row_order_proven_to_20", proven, "values", len(problems), "values known"),
        row("row_order_proofs_s", took, "s", None),
    ]


# ---- small jobs against every plate there is ------------------------------------------------


class Case(NamedTuple):
    """A job in a number of rows, ready for the search."""

    job: Job
    rows: int
    data: Data


def case_of(job: Job, rows_wanted: int) -> Case:
    """Return a job in so many rows, with one duct size all round."""
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    sizes = uniform_sizes(task, rows_wanted, job.settings.stock.ducts[1])
    return Case(job, rows_wanted, (task.arrays, wiring_for(task, sizes), frame_for(task, sizes)))


def found_in(case: Case, *, moves: int, seed: int) -> Found:
    """Search a case from its blocks in the order of their tags."""
    start = first_fit(list(range(case.data[0].free)), case.data[0], case.data[2])
    return search(start, case.data, moves=moves, seed=seed, report=lambda _d, _w: True)


def small_cases() -> list[Case]:
    """Return 50 generated jobs of 6 to 14 devices in two or three rows."""
    cases = []
    for k in range(SMALL_JOBS):
        devices = 6 + k % 9
        in_three = devices < 12 and k % 2 == 1
        width = 440.0 if devices < 8 else 540.0 if devices < 11 or in_three else 700.0
        job = generated_job(devices, seed=k, width=width, height=1300.0)
        cases.append(case_of(job, 3 if in_three else 2))
    return cases


def exhaustive_rows() -> list[Row]:
    """Return on how many small jobs the best of five searches is the best of all plates."""
    cases = small_cases()
    found_in(cases[0], moves=100, seed=1)
    equal, all_five = 0, 0
    worst, worst_five = 0.0, 0.0
    for number, case in enumerate(cases, start=1):
        runs, spent = [], []
        for seed in FIVE_SEEDS:
            begin = time.process_time()
            runs.append(found_in(case, moves=SMALL_MOVES, seed=seed))
            spent.append(time.process_time() - begin)
        worst, worst_five = max(worst, *spent), max(worst_five, sum(spent))
        best = min(runs, key=lambda f: (f.violation, f.cost))
        small = read_small(case.job, case.rows, case.job.settings.stock.ducts[1])
        least, _ = optimum(small, best.cost * (1 + 1e-9))
        same = [r.violation == 0.0 and abs(r.cost - least) < 1e-6 * least for r in runs]
        equal += any(same)
        all_five += all(same)
        if number % 10 == 0 or not any(same):
            told(f"{equal} of {number} small jobs equal to every plate there is")
    return [
        row("exhaustive_equal", equal, "jobs", len(cases), "jobs, best of 5 seeds"),
        row("exhaustive_equal_all_seeds", all_five, "jobs", len(cases), "jobs, each seed alone"),
        row("exhaustive_search_worst_s", worst, "s", SMALL_LIMIT, "most allowed, one seed"),
        row("exhaustive_five_worst_s", worst_five, "s", SMALL_LIMIT, "most allowed, 5 seeds"),
    ]


# ---- bounds and certificates ----------------------------------------------------------------


def legal_case(devices: int, seed: int, moves: int) -> tuple[Case, Found]:
    """Return a generated job in the fewest rows a legal plate is found in, and the plate."""
    job = generated_job(devices, seed=seed)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    least = fewest_rows(task, uniform_sizes(task, 1, job.settings.stock.ducts[1]))
    for count in range(least, least + 5):
        case = case_of(job, count)
        found = found_in(case, moves=moves, seed=seed)
        if found.violation == 0.0:
            return case, found
    raise ValueError(f"no legal plate found for {devices} devices, seed {seed}")


def bound_rows() -> list[Row]:
    """Return the proven least wire beside what is found, and the time the proof takes."""
    made = []
    for devices in (14, 25, 40, 60):
        case, found = legal_case(devices, 1, 200_000)
        begin = time.perf_counter()
        bound = wire_bound(case.data)
        took = time.perf_counter() - begin
        made += [
            row(f"bound_{devices}_wire_m", bound.value / 1000, "m", found.wire / 1000, "found"),
            row(f"bound_{devices}_gap", bound.gap(found.wire), "share", None),
            row(f"bound_{devices}_s", took, "s", None),
        ]
    return made


def window_rows() -> list[Row]:
    """Return how many windows of neighbours are proven, what that gains, and its time."""
    made = []
    for devices, size, moves in ((60, 6, 200_000), (300, 5, 400_000)):
        case, found = legal_case(devices, 1, moves)
        improve_windows(found.start, case.data, size=2)
        begin = time.perf_counter()
        _, report = improve_windows(found.start, case.data, size=size)
        took = time.perf_counter() - begin
        total = len(report.proven) + len(report.open)
        made += [
            row(f"windows_{devices}_proven", len(report.proven), "windows", total, "all windows"),
            row(
                f"windows_{devices}_cost_m",
                report.cost_after / 1000,
                "m",
                found.cost / 1000,
                "before",
            ),
            row(f"windows_{devices}_s", took, "s", None),
        ]
    return made


if __name__ == "__main__":
    for each in rows(Path(sys.argv[1]) if len(sys.argv) > 1 else None):
        print(each, flush=True)
