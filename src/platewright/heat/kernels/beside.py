"""What shuts the sides of housings, and which housings pass heat to each other. Millimetres."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.compiled import compiled
from platewright.heat.air import Floats

_MOST = 8  # pairs told per thing; more only where many small things stand along a large one


@compiled
def beside(
    edges: Floats, depths: Floats, reach: float, touch: float
) -> tuple[Floats, NDArray[np.int64], Floats]:
    """Return shut share of left and right (2, n), pairs (m, 2), their gap, height, depth (m, 3).

    ``edges``: left, bottom, right, top of devices, then of what else stands there; ``depths`` of
    all. A side is shut by the share of it that another
    thing covers, less where it stands off, not at all at ``reach``.
    """
    n = edges.shape[0]
    shut = np.zeros((2, n))
    ends = np.empty((n * _MOST, 2), np.int64)
    shared = np.empty((n * _MOST, 3))
    found = 0
    for i in range(n):
        for j in range(n):
            gap = edges[j, 0] - edges[i, 2]
            if gap < -touch or gap >= reach:
                continue
            high = min(edges[i, 3], edges[j, 3]) - max(edges[i, 1], edges[j, 1])
            if high <= touch:
                continue
            gap, deep = max(gap, 0.0), min(depths[i], depths[j])
            near = (1.0 - gap / reach) * high * deep
            shut[1, i] += near / ((edges[i, 3] - edges[i, 1]) * depths[i])
            shut[0, j] += near / ((edges[j, 3] - edges[j, 1]) * depths[j])
            if found < ends.shape[0]:
                ends[found, 0], ends[found, 1] = i, j
                shared[found, 0], shared[found, 1], shared[found, 2] = gap, high, deep
                found += 1
    return np.minimum(shut, 1.0), ends[:found], shared[:found]
