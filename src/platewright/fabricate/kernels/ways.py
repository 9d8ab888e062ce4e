"""The cheapest way over spots along a line: from each spot to those behind it, a step a span.

Two rows are kept apart: ways of one spot, and ways of more. What a way costs is told in two whole
numbers: faults, dearest first, then the sum of the squares of the lengths between spots and ends.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.compiled import compiled

Ints = NDArray[np.int64]
NONE = 1 << 62  # dearer than any way: there is none


@compiled
def cheapest_ways(
    at: Ints, own: Ints, free: Ints, line: Ints, limits: tuple[int, int, int, int],
    price: Ints, uneven: Ints, before: Ints,
) -> None:  # fmt: skip
    """Fill in ``price``, ``uneven`` and ``before`` (2 × spots) for spots in order.

    ``own``: price of each spot. ``free``: 1 for a new one, which keeps apart. ``line``: -1 for none;
    neighbours never lie on the same one. ``limits``: of the end, of a span, least gap, price of a
    micrometre beyond a limit. ``before``: twice the spot before plus its row; -1 for none. Of equal
    ways the one from the nearest spot, then that of one spot, is kept.
    """
    end, span, least, beyond = limits
    for here in range(len(at)):
        price[0, here] = beyond * max(0, at[here] - end) + own[here]
        uneven[0, here] = at[here] ** 2
        price[1, here], uneven[1, here] = NONE, NONE
        before[0, here], before[1, here] = -1, -1
        for there in range(here - 1, -1, -1):
            gap = at[here] - at[there]
            step = beyond * max(0, gap - span)
            if step > price[1, here]:
                break  # farther ones cost more still
            if line[here] >= 0 and line[here] == line[there]:
                continue
            if free[here] + free[there] > 0 and gap < least:
                continue
            for row in range(2):
                cost = price[row, there] + step
                level = uneven[row, there] + gap * gap
                if price[row, there] < NONE and (
                    cost < price[1, here] or (cost == price[1, here] and level < uneven[1, here])
                ):
                    price[1, here], uneven[1, here] = cost, level
                    before[1, here] = 2 * there + row
        if price[1, here] < NONE:
            price[1, here] += own[here]
