"""The short way from hole to hole: a closed tour, or a path from where the hand is.

The same holes give the same way on every machine: what is spent is counted in kicks, not seconds.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import permutations
from typing import Final

import numpy as np
from numpy.typing import NDArray

from platewright.fabricate.kernels.tour import shorten
from platewright.model.geometry import Point

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

NEAR: Final = 8  # nearest places that may become neighbours
RUNS: Final = 3  # searches from different seeds; the shortest tour counts
KICKS: Final = 1600  # of one search
KICKS_A_HOLE: Final = 40  # fewer where there are few holes
ALL_ORDERS: Final = 7  # up to so many places every order is tried


def closed_tour(lengths: Floats, *, seed: int = 1, runs: int = RUNS) -> tuple[int, ...]:
    """Return the order of a short closed tour over all places, from place 0 on.

    ``lengths``: symmetric, from each place to each. Exact up to seven places; measured beyond
    (``bench/bench_tour.py``).
    """
    count = len(lengths)
    if count <= ALL_ORDERS:
        return _of_all_orders(lengths)
    near = _nearest(lengths)
    start = next_nearest(lengths)
    best, shortest = start, np.inf
    for run in range(runs):
        tour = start.copy()
        shorten(tour, lengths, near, min(KICKS, KICKS_A_HOLE * count), seed + run)
        length = tour_length(tour, lengths)
        if length < shortest - 1e-9:
            best, shortest = tour, length
    first = int(np.flatnonzero(best == 0)[0])
    ordered = np.roll(best, -first)
    if ordered[-1] < ordered[1]:  # one way round, whichever the search ran
        ordered = np.roll(ordered[::-1], 1)
    return tuple(int(place) for place in ordered)


def drill_path(points: Sequence[Point], *, start: Point) -> tuple[int, ...]:
    """Return the order of a short path that begins at ``start`` and ends at any hole.

    A closed tour over the holes, the start and one more place that lies at the start and far
    from all holes: with that place left out, the tour is the path.
    """
    count = len(points)
    if count <= 1:
        return tuple(range(count))
    places = np.array([(start.x, start.y), *((p.x, p.y) for p in points)])
    between = lengths_of(places)
    far = 4 * float(between.max()) + 1.0
    lengths = np.full((count + 2, count + 2), far)
    lengths[1:, 1:] = between
    lengths[0, 1] = lengths[1, 0] = lengths[0, 0] = 0.0
    order = closed_tour(lengths, runs=1)  # a hand loses more time looking than walking
    if order[1] != 1:
        order = (order[0], *reversed(order[1:]))
    return tuple(place - 2 for place in order[2:])


def lengths_of(places: Floats) -> Floats:
    """Return the straight lengths between all places."""
    return np.hypot(
        places[:, None, 0] - places[None, :, 0], places[:, None, 1] - places[None, :, 1]
    )


def tour_length(tour: Ints | Sequence[int], lengths: Floats) -> float:
    """Return the length of a closed tour."""
    order = np.asarray(tour)
    return float(lengths[order, np.roll(order, -1)].sum())


def _of_all_orders(lengths: Floats) -> tuple[int, ...]:
    rest = range(1, len(lengths))
    orders = ((0, *order) for order in permutations(rest))
    return min(orders, key=lambda order: (round(tour_length(order, lengths), 9), order))


def _nearest(lengths: Floats) -> Ints:
    """Return the nearest places of each, nearest first."""
    own = lengths.copy()
    np.fill_diagonal(own, np.inf)
    wide = min(NEAR, len(lengths) - 1)
    return np.ascontiguousarray(np.argsort(own, axis=1, kind="stable")[:, :wide], dtype=np.int64)


def next_nearest(lengths: Floats) -> Ints:
    """Return the tour that always goes on to the nearest place left."""
    count = len(lengths)
    tour = np.zeros(count, dtype=np.int64)
    waits = np.ones(count, dtype=bool)
    waits[0] = False
    for step in range(1, count):
        tour[step] = np.where(waits, lengths[tour[step - 1]], np.inf).argmin()
        waits[tour[step]] = False
    return tour
