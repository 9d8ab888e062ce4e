"""Cutting lists as panels have them: bars, share proven optimal, time.

Baseline: best fit, longest first, alone, on the same lists in the same run.
"""

from __future__ import annotations

import random
import time
from pathlib import Path

from platewright.fabricate.solvers.cut_stock import cut_stock, pack
from platewright.fabricate.solvers.packing import (
    best_fit,
    bound_by_big_pieces,
    bound_by_length,
    packing_of,
)
from platewright.model.job import Stock
from platewright.model.pieces import Piece

SIZES = (20, 60, 150, 300)
LISTS = 40
TRIPLETS = (10, 20, 40)
RAIL = "rail TH35-7.5"
STOCK = Stock(ducts=(), kerf=3.0)
ROOM = 20_030  # tenths: a bar of 2000 mm and one kerf of 3 mm


def panel_list(pieces: int, seed: int) -> list[Piece]:
    """Return 3 to n/5 distinct lengths of 150 to 1700 mm, on a raster of 5 or 0.5 mm."""
    chance = random.Random(seed * 1000 + pieces)
    distinct = chance.randint(3, max(3, pieces // 5))
    raster = chance.choice((50, 5))
    lengths = [chance.randrange(1500, 17_001, raster) / 10 for _ in range(distinct)]
    return [Piece(tag=f"R{n}", stock=RAIL, length=chance.choice(lengths)) for n in range(pieces)]


def triplets(bars: int, seed: int) -> list[int]:
    """Return bars cut in three without rest: the optimum is the bars drawn."""
    chance, sizes = random.Random(seed), []
    for _ in range(bars):
        first = chance.randint(ROOM // 4, ROOM // 2)
        second = chance.randint(ROOM // 4, ROOM * 4 // 5 - first)
        sizes += [first, second, ROOM - first - second]
    return sizes


def rows(data: Path | None = None) -> list[dict[str, str | float]]:  # noqa: ARG001  (one form for all)
    """Return the measured rows."""
    cut_stock(panel_list(SIZES[0], 0), STOCK)  # load the solver before the clock runs
    return [row for pieces in SIZES for row in panel_rows(pieces)] + [
        row for bars in TRIPLETS for row in triplet_rows(bars)
    ]


def panel_rows(pieces: int) -> list[dict[str, str | float]]:
    """Return bars, proven share and worst time of lists of so many pieces."""
    bars = proven = plain_bars = plain_proven = 0
    worst = plain_worst = 0.0
    for seed in range(LISTS):
        cut = panel_list(pieces, seed)
        start = time.perf_counter()
        plan = cut_stock(cut, STOCK)
        worst = max(worst, time.perf_counter() - start)
        bars += len(plan.bars)
        proven += plan.is_proven
        start = time.perf_counter()
        problem = packing_of([round(piece.length * 10) + 30 for piece in cut], ROOM)
        plain = len(best_fit(problem, problem.demand))
        plain_worst = max(plain_worst, time.perf_counter() - start)
        plain_bars += plain
        plain_proven += plain == max(bound_by_length(problem), bound_by_big_pieces(problem))
    name = f"cut {pieces} pieces"
    return [
        row(f"{name}: bars of {LISTS} lists", bars, "bars", plain_bars),
        row(f"{name}: lists proven", proven / LISTS, "share", plain_proven / LISTS),
        row(f"{name}: worst time", worst, "s", plain_worst),
    ]


def triplet_rows(bars: int) -> list[dict[str, str | float]]:
    """Return bars above the planted optimum, and the time."""
    problem = packing_of(triplets(bars, bars), ROOM)
    start = time.perf_counter()
    plain = len(best_fit(problem, problem.demand))
    plain_time = time.perf_counter() - start
    start = time.perf_counter()
    packed = pack(problem)
    spent = time.perf_counter() - start
    name = f"cut {bars} planted bars"
    return [
        row(f"{name}: bars", len(packed.bars), "bars", plain),
        row(f"{name}: bound", packed.bound, "bars", bars),
        row(f"{name}: time", spent, "s", plain_time),
    ]


def row(name: str, value: float, unit: str, baseline: float) -> dict[str, str | float]:
    """Return one row as the bench prints it."""
    ratio = value / baseline if baseline else float("nan")
    return {"name": name, "value": value, "unit": unit, "baseline": baseline, "ratio": ratio}


if __name__ == "__main__":
    for each in rows(None):
        print(each)
