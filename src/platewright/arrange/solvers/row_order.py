"""Order the devices of one row so that the wires between them are shortest.

The single-row layout problem of the literature: every device counts by its centre, and a row has
one duct. On a plate it stands for a row whose wires run in one duct; here it is also the engine's
touchstone, since published optima exist for it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.arrange.arrays import Floats, Ints
from platewright.arrange.kernels.row_order import cheapest_half, improve_order, length_of

MOST_PROVABLE: Final = 25  # devices; the table of sets then takes a quarter of a gigabyte
_KICKS: Final = 2500  # upsets a start, for rows of up to 40 devices
_WORK: Final = 100_000  # upsets times devices a start, for longer rows
_STARTS: Final = 3


@dataclass(frozen=True, slots=True)
class RowOrder:
    """An order of devices from the left, and the sum of wires times distance it costs, mm."""

    order: tuple[int, ...]
    length: float
    is_proven: bool


def _checked(widths: Floats, wires: Floats) -> tuple[Floats, Floats]:
    w = np.ascontiguousarray(widths, dtype=np.float64)
    c = np.ascontiguousarray(wires, dtype=np.float64)
    if c.shape != (len(w), len(w)):
        raise ValueError(f"wires between {len(w)} devices need {len(w)} rows and columns")
    if not np.array_equal(c, c.T):
        raise ValueError("wires from a to b and from b to a must be the same number")
    c = c.copy()
    np.fill_diagonal(c, 0.0)
    return w, c


def row_length(order: tuple[int, ...], widths: Floats, wires: Floats) -> float:
    """Return the sum of wires times distance of centres of devices side by side in ``order``."""
    w, c = _checked(widths, wires)
    return float(length_of(np.array(order, dtype=np.int64), w, c))


def order_row(
    widths: Floats, wires: Floats, *, kicks: int | None = None, seed: int = 1
) -> RowOrder:
    """Search for a short order: descents by single moves, and small upsets between them.

    ``wires[i, j]`` is how many wires join i and j. The same seed gives the same order; nothing is
    proven by it.
    """
    w, c = _checked(widths, wires)
    if kicks is None:
        kicks = min(_KICKS, _WORK // max(1, len(w)))
    best: tuple[float, Ints] | None = None
    for start in range(_STARTS):
        order = np.arange(len(w), dtype=np.int64)
        np.random.default_rng((seed, start)).shuffle(order)
        length = float(improve_order(order, w, c, kicks, seed * _STARTS + start))
        if best is None or length < best[0]:
            best = (length, order)
    if best is None:  # there is always a start
        raise AssertionError
    found = tuple(int(b) for b in best[1])
    return RowOrder(found, row_length(found, w, c), is_proven=False)


def _unfold(s: int, w: Floats, c: Floats, cost: Floats) -> list[int]:
    """Return the best order of a set that stands on the left, from the left."""
    n = len(w)
    order: list[int] = []
    while s:
        inside = [q for q in range(n) if (s >> q) & 1]
        outside = [q for q in range(n) if not (s >> q) & 1]

        def cost_with_last(
            q: int, s: int = s, inside: list[int] = inside, outside: list[int] = outside
        ) -> float:
            before = [b for b in inside if b != q]
            return float(cost[s & ~(1 << q)] + w[q] * c[np.ix_(before, outside)].sum())

        last = min(inside, key=cost_with_last)
        order.append(last)
        s &= ~(1 << last)
    return order[::-1]


def proven_row_order(widths: Floats, wires: Floats) -> RowOrder:
    """Return a shortest order, proven by a table over all sets; up to 25 devices."""
    w, c = _checked(widths, wires)
    n = len(w)
    if n > MOST_PROVABLE:
        raise ValueError(f"an order of {n} devices cannot be proven; {MOST_PROVABLE} is the most")
    cost = np.empty(1 << n)
    half = int(cheapest_half(w, c, cost))
    right = _unfold(((1 << n) - 1) ^ half, w, c, cost)[::-1]
    order = (*_unfold(half, w, c, cost), *right)
    return RowOrder(order, row_length(order, w, c), is_proven=True)
