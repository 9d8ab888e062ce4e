"""Drill tours: length over the known optimum, and time.

With a folder of instances in the TSPLIB form (``--data``): the drilling problems of TSPLIB
(Reinelt 1991), lengths rounded to whole numbers as that library counts them, optima as published
with it. Without: full grids, whose shortest tour is known. Baseline: always on to the nearest hole.
"""

from __future__ import annotations

import time
from math import sqrt
from pathlib import Path

import numpy as np

from platewright.fabricate.solvers.drill_tour import (
    closed_tour,
    lengths_of,
    next_nearest,
    tour_length,
)

OPTIMA = {"a280": 2579, "d198": 15780, "pcb442": 50778, "u574": 36905}
GRIDS = ((10, 10), (11, 11), (12, 20), (20, 20))
PITCH = 25.0


def rows(data: Path | None = None) -> list[dict[str, str | float]]:
    """Return one row an instance, and the longest time."""
    closed_tour(lengths_of(grid(4, 4)))  # load the kernel before the clock runs
    found, worst = [], 0.0
    for name, lengths, optimum in instances(data):
        plain = tour_length(next_nearest(lengths), lengths) / optimum
        start = time.perf_counter()
        tour = closed_tour(lengths)
        worst = max(worst, time.perf_counter() - start)
        ratio = tour_length(tour, lengths) / optimum
        found.append(
            {"name": f"gap_{name}", "value": ratio, "unit": "optimum", "baseline": plain,
             "ratio": ratio / plain}
        )  # fmt: skip
    found.append(
        {"name": "worst_s", "value": worst, "unit": "s", "baseline": 0.5, "ratio": worst / 0.5}
    )
    return found


def instances(data: Path | None) -> list[tuple[str, np.ndarray, float]]:
    """Return name, lengths and optimum of each instance."""
    if data is not None:
        found = []
        for name, optimum in OPTIMA.items():
            path = next(iter(sorted(data.rglob(f"{name}.tsp"))), None)
            if path is not None:
                rounded = np.floor(lengths_of(read(path)) + 0.5)
                found.append((name, rounded, float(optimum)))
        if not found:
            raise SystemExit(f"{data}: none of {', '.join(OPTIMA)} (.tsp) lies there")
        return found
    return [(f"grid{a}x{b}", lengths_of(grid(a, b)), grid_optimum(a, b)) for a, b in GRIDS]


def grid(columns: int, rows: int) -> np.ndarray:
    """Return the places of a full grid."""
    return np.array([(PITCH * x, PITCH * y) for y in range(rows) for x in range(columns)])


def grid_optimum(columns: int, rows: int) -> float:
    """Return the shortest tour of a full grid: one pitch a place; odd by odd: one diagonal more."""
    odd = columns * rows % 2
    return PITCH * (columns * rows + odd * (sqrt(2) - 1))


def read(path: Path) -> np.ndarray:
    """Return the places of a file in the TSPLIB form."""
    lines = path.read_text(encoding="utf-8").splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("NODE_COORD_SECTION")) + 1
    places = []
    for line in lines[start:]:
        if not line.strip() or line.startswith("EOF"):
            break
        places.append([float(word) for word in line.split()[1:3]])
    return np.array(places)


if __name__ == "__main__":
    for each in rows():
        print(each)
