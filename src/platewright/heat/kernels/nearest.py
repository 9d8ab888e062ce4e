"""The nearest box that faces each side of each box."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.compiled import compiled
from platewright.heat.air import Floats


@compiled
def nearest_sides(edges: Floats, others: Floats, touch: float) -> tuple[Floats, NDArray[np.int64]]:
    """Return distance and index of the nearest other on each side: (4, n) both.

    Boxes are left, bottom, right, top; sides left, right, top, bottom. Infinite: none faces it.
    """
    n, m = edges.shape[0], others.shape[0]
    distance = np.full((4, n), np.inf)
    found = np.zeros((4, n), dtype=np.int64)
    gaps = np.empty(4)
    for i in range(n):
        left, bottom, right, top = edges[i, 0], edges[i, 1], edges[i, 2], edges[i, 3]
        for j in range(m):
            beside = min(top, others[j, 3]) - max(bottom, others[j, 1]) > touch
            over = min(right, others[j, 2]) - max(left, others[j, 0]) > touch
            if beside == over:  # a box that shares area, itself included, or one at a corner
                continue
            gaps[0], gaps[1] = left - others[j, 2], others[j, 0] - right
            gaps[2], gaps[3] = others[j, 1] - top, bottom - others[j, 3]
            first = 0 if beside else 2
            for side in range(first, first + 2):
                if -touch <= gaps[side] < distance[side, i]:
                    distance[side, i] = gaps[side]
                    found[side, i] = j
    return distance, found
