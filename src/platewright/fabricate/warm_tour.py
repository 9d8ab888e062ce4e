"""Compile the kernels of the drill tours and the cutting lists once."""

from __future__ import annotations

import numpy as np

from platewright.fabricate.kernels.knapsack import best_content_surely
from platewright.fabricate.solvers.drill_tour import closed_tour, lengths_of
from platewright.fabricate.solvers.full_bars import choose_full, fill_bars, finish
from platewright.fabricate.solvers.likely_bars import likely_bars
from platewright.fabricate.solvers.packing import (
    Packed,
    best_fit,
    bound_by_prices,
    packing_of,
)


def compile_kernels() -> None:
    """Go round ten places, and cut four bars in three; the compiled kernels are kept on disk."""
    closed_tour(lengths_of(np.array([(float(k * k), float(k)) for k in range(10)])))
    thirds = [(290 + k, 330 + 2 * k, 380 - 3 * k) for k in range(4)]
    problem = packing_of([size for bar in thirds for size in bar], 1000)
    fill_bars(problem, 4)
    finish(problem, 4)
    choose_full(problem, Packed(bars=tuple(best_fit(problem, problem.demand)), bound=3), work=1000)
    bound_by_prices(problem, problem.sizes)
    many = np.zeros_like(problem.demand)
    best_content_surely(problem.sizes, problem.sizes, problem.demand, problem.capacity, many)
    pairs = np.array([[1, 1, 0], [1, 0, 1], [0, 1, 1], [0, 1, 1]], dtype=np.int16)
    likely_bars(pairs, np.array([1, 2, 1]), work=1000)


if __name__ == "__main__":
    compile_kernels()
