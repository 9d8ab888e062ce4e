"""Cutting lists of every kind up to 300 pieces: share proven optimal, bars, time.

Baseline: best fit, longest first, alone, on the same lists in the same run. A list that was not
proven is told with its bars and its bound. Times are of the processor, on one core: what else
runs on the machine does not count.
"""

from __future__ import annotations

import time
from pathlib import Path
from typing import NamedTuple

from cutting_lists import CLASSES, CuttingList, odd_triplets
from platewright.fabricate.solvers.fewest_bars import fewest_bars
from platewright.fabricate.solvers.packing import (
    Packed,
    best_fit,
    bound_by_big_pieces,
    bound_by_length,
    packing_of,
)

LISTS = 12  # of each class and size


class Measured(NamedTuple):
    """One list and what came of it."""

    cut: CuttingList
    seed: int
    packed: Packed
    seconds: float
    plain_bars: int
    plain_is_proven: bool
    plain_seconds: float


def rows(data: Path | None = None) -> list[dict[str, str | float]]:  # noqa: ARG001  (one form for all)
    """Return the measured rows, the totals first."""
    measure(odd_triplets(30, 0), 0)  # compile and load the solvers before the clock runs
    by_class: dict[str, list[Measured]] = {}
    for make, amounts in CLASSES:
        for amount in amounts:
            for seed in range(LISTS):
                one = measure(make(amount, seed), seed)
                by_class.setdefault(one.cut.kind, []).append(one)
    every = [one for measured in by_class.values() for one in measured]
    total = [
        row("proven_optimal_share", *shares(every)),
        row("worst_s", max(one.seconds for one in every), "s", worst_plain(every)),
    ]
    for kind, measured in by_class.items():
        total += class_rows(kind, measured)
    return total + [unproven_row(one) for one in every if not one.packed.is_proven]


def measure(cut: CuttingList, seed: int) -> Measured:
    """Return the bars of one list and the time they took; no planted optimum may be missed."""
    problem = packing_of(cut.sizes, cut.room)
    start = time.process_time()
    packed = fewest_bars(problem)
    seconds = time.process_time() - start
    start = time.process_time()
    plain = len(best_fit(problem, problem.demand))
    bound = max(bound_by_length(problem), bound_by_big_pieces(problem))
    plain_seconds = time.process_time() - start
    if cut.planted is not None and not packed.bound <= cut.planted <= len(packed.bars):
        raise AssertionError(f"{cut.kind}: {packed} against {cut.planted} planted bars")
    return Measured(cut, seed, packed, seconds, plain, plain == bound, plain_seconds)


def shares(measured: list[Measured]) -> tuple[float, str, float]:
    """Return the share of lists proven, its unit, and that of best fit alone."""
    proven = sum(one.packed.is_proven for one in measured)
    plain = sum(one.plain_is_proven for one in measured)
    return proven / len(measured), "share", plain / len(measured)


def worst_plain(measured: list[Measured]) -> float:
    """Return the longest time that best fit took."""
    return max(one.plain_seconds for one in measured)


def class_rows(kind: str, measured: list[Measured]) -> list[dict[str, str | float]]:
    """Return bars, proven share and worst time of one class."""
    bars = sum(len(one.packed.bars) for one in measured)
    plain = sum(one.plain_bars for one in measured)
    return [
        row(f"{kind}: bars of {len(measured)} lists", bars, "bars", plain),
        row(f"{kind}: lists proven", *shares(measured)),
        row(f"{kind}: worst time", max(m.seconds for m in measured), "s", worst_plain(measured)),
    ]


def unproven_row(one: Measured) -> dict[str, str | float]:
    """Return bars beside their bound, as the baseline, and the gap where these do not agree."""
    bars, bound = len(one.packed.bars), one.packed.bound
    name = f"{one.cut.kind}, {len(one.cut.sizes)} pieces, seed {one.seed}: bars, not proven"
    return row(f"{name}, {bars - bound} above the bound of {bound}", bars, "bars", bound)


def row(name: str, value: float, unit: str, baseline: float) -> dict[str, str | float | None]:
    """Return one row as the bench prints it."""
    ratio = value / baseline if baseline else None
    return {"name": name, "value": value, "unit": unit, "baseline": baseline, "ratio": ratio}


if __name__ == "__main__":
    for each in rows(None):
        print(each)
