"""Wakes at the inlets of devices and over the cells of a picture."""

from __future__ import annotations

import math

import numpy as np

from platewright.foundation.compiled import compiled
from platewright.heat.air import Floats

FADED = 3.0  # exp(−3²) to the power 2/3: a four-hundredth


@compiled
def wake_strengths(
    y: Floats, start: Floats, origin: Floats, strength: float, ramp: float
) -> Floats:
    """Return strength · z^(−5/3) of each wake at heights, z from its origin: (heights, devices).

    It sets in over ``ramp`` round its start; below that there is none.
    """
    found = np.zeros((y.size, start.size))
    for row in range(y.size):
        for i in range(start.size):
            rise = y[row] - start[i]
            share = rise / ramp + 0.5
            if share > 0.0:
                high = max(rise, 0.0) + origin[i]
                found[row, i] = strength / (high * np.cbrt(high * high)) * min(share, 1.0)
    return found


@compiled
def left_of_wakes(
    strength: Floats, power: Floats, warm: Floats, warm_start: Floats, drag: float
) -> Floats:
    """Return each wake's excess over the core, to the power 3/2: (heights, devices).

    ``power``: what a wake's heat counts for; ``warm``: the core at the heights, ``warm_start``:
    where each wake begins. Climbing into warmer air takes a share (``drag``) of the difference.
    """
    found = np.zeros(strength.shape)
    for row in range(strength.shape[0]):
        for i in range(strength.shape[1]):
            climbed = max(0.0, warm[row] - warm_start[i])
            excess = strength[row, i] * power[i] - drag * climbed
            if excess > 0.0:
                found[row, i] = excess * math.sqrt(excess)
    return found


@compiled
def inlet_wakes(left: Floats, reach: Floats, x: Floats, width: Floats, samples: Floats) -> Floats:
    """Return the merged wakes at each inlet, K, a mean over samples across its width.

    ``left``: excess in each wake's middle to the power 3/2; ``reach``: one over its half width
    (inlets, devices).
    """
    n, count = x.size, samples.size
    found = np.zeros(n)
    for j in range(n):
        for k in range(count):
            place, total = x[j] + samples[k] * width[j], 0.0
            for i in range(n):
                if left[j, i] > 0.0:
                    u = (place - x[i]) * reach[j, i]
                    total += left[j, i] * math.exp(-u * u)
            found[j] += total ** (2.0 / 3.0) / count
    return found


@compiled
def summed_wakes(
    columns: Floats, centre: Floats, strength: Floats, reach: Floats, is_side: bool
) -> Floats:
    """Return (Σ strength · exp(−(off·reach)²))^(2/3) at each cell of a picture: (rows, columns).

    ``columns``: evenly spaced places; ``centre``: of each wake (devices); from there on only where
    ``is_side``, before it in full. ``strength``, ``reach``: (rows, devices). The bell is carried
    from column to column by exp(−(u+s)²) = exp(−u²)·exp(−2us)·exp(−s²); what is below a
    four-hundredth of a wake's middle is left out.
    """
    rows, n = strength.shape
    count, first = columns.size, columns[0]
    step = columns[1] - columns[0]
    found = np.zeros((rows, count))
    for row in range(rows):
        line = found[row]
        for i in range(n):
            much, bell = strength[row, i], reach[row, i]
            if much <= 0.0:
                continue
            near = FADED / bell
            begin = 0 if is_side else max(0, math.ceil((centre[i] - near - first) / step))
            end = min(count, math.floor((centre[i] + near - first) / step) + 1)
            if is_side:
                full = min(end, max(0, math.ceil((centre[i] - first) / step)))
                for column in range(full):
                    line[column] += much
                begin = full
            if begin >= end:
                continue
            u, s = (first + begin * step - centre[i]) * bell, step * bell
            value, ratio, fall = (
                much * math.exp(-u * u),
                math.exp(-s * (2.0 * u + s)),
                math.exp(-2.0 * s * s),
            )
            for column in range(begin, end):
                line[column] += value
                value *= ratio
                ratio *= fall
        for column in range(count):
            if line[column] > 0.0:
                line[column] = line[column] ** (2.0 / 3.0)
    return found
