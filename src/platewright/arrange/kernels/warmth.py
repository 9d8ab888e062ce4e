"""How warm the warmest device gets, roughly: what steers a plan to a cool plate.

A sketch of the heat model, at a thousandth of its price: air warmer upwards, all of it warmer for
heat given off low, and the wakes of what stands below. What a plan is worth is told by the model.
"""

from __future__ import annotations

import numpy as np

from platewright.arrange.arrays import Floats, Placed
from platewright.foundation.compiled import lent

_OPEN_AT = 10.0  # mm beside it at which a side gives off heat freely
_FADED = 2.5  # half widths beside a wake's middle: nothing is left of it there


@lent
def _shut(b: int, left: float, right: float, width: Floats, placed: Placed) -> float:
    """Return how many sides of a device, 0 to 2, other blocks of its row shut."""
    x, row = placed.x, placed.row
    here = row[b]
    near_left, near_right = _OPEN_AT, _OPEN_AT
    for o in range(len(x)):
        if row[o] == here and o != b:
            if x[o] < left:
                near_left = min(near_left, left - x[o] - width[o])
            else:
                near_right = min(near_right, x[o] - right)
    return 2.0 - (max(0.0, near_left) + max(0.0, near_right)) / _OPEN_AT


@lent
def warmest(hot: Floats, air: Floats, width: Floats, placed: Placed) -> float:
    """Return the rise of the warmest judged housing, K: a mean to the power 16, nearly the most.

    ``hot``: block, middle from the block's left edge, foot above its line, own rise, wake,
    its origin, start and half width, share of heat, what a shut side adds, half the device's width.
    ``air``: as ``warmth.Warmth`` has it.
    """
    x, ref = placed.x, placed.ref
    high = 0.0
    n = hot.shape[0]
    for j in range(n):
        high += hot[j, 8] * (ref[int(hot[j, 0])] + hot[j, 2] + hot[j, 6] - air[3])
    factor = 1.0 - air[2] * high
    total = 0.0
    for i in range(int(air[6])):
        b = int(hot[i, 0])
        middle, foot = x[b] + hot[i, 1], ref[b] + hot[i, 2]
        wakes = 0.0
        for j in range(n):
            a = int(hot[j, 0])
            rise = foot - ref[a] - hot[j, 2] - hot[j, 6]
            if rise <= 0.0 or j == i:
                continue
            off = abs(middle - x[a] - hot[j, 1]) / (hot[j, 7] + air[4] * rise)
            if off > _FADED:
                continue
            far = rise + hot[j, 5]
            left = hot[j, 4] / (far * np.cbrt(far * far)) - air[5] * factor * air[1] * rise
            if left > 0.0:
                wakes += left * np.sqrt(left) * np.exp(-1.5 * off * off)
        root = np.cbrt(wakes)
        own = hot[i, 3] + hot[i, 9] * _shut(
            b, middle - hot[i, 10], middle + hot[i, 10], width, placed
        )
        warm = max(0.0, own + factor * (air[0] + air[1] * foot) + root * root)
        warm *= warm
        warm *= warm
        warm *= warm
        total += warm * warm
    return float(np.sqrt(np.sqrt(np.sqrt(np.sqrt(total)))))
