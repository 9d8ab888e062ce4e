"""Steps that touch each value of a staggered field once."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.compiled import compiled

Floats = NDArray[np.float64]
Flags = NDArray[np.uint8]


@compiled
def advance(
    value: Floats,
    is_open: Flags,
    carry: Floats,
    before: Floats,
    spread: Floats,
    time: float,
    ahead: float,
) -> None:
    """Step a field on in time and clear its rates for the next step.

    Carrying is extrapolated from the last step (kept in ``before``), spreading taken as it is.
    """
    for i in range(value.shape[0]):
        for j in range(value.shape[1]):
            for k in range(value.shape[2]):
                if is_open[i, j, k]:
                    carried = (1.0 + ahead) * carry[i, j, k] - ahead * before[i, j, k]
                    value[i, j, k] += time * (carried + spread[i, j, k])
                before[i, j, k] = carry[i, j, k]
                carry[i, j, k] = 0.0
                spread[i, j, k] = 0.0


@compiled
def lift(spread: Floats, warmth: Floats, air: Flags, strength: float) -> None:
    """Add buoyancy against the mean of the air to the rate of the upward speed (last axis)."""
    total = 0.0
    count = 0
    for i in range(warmth.shape[0]):
        for j in range(warmth.shape[1]):
            for k in range(warmth.shape[2]):
                if air[i, j, k]:
                    total += warmth[i, j, k]
                    count += 1
    level = total / max(count, 1)
    for i in range(warmth.shape[0]):
        for j in range(warmth.shape[1]):
            for k in range(1, warmth.shape[2]):
                mean = 0.5 * (warmth[i, j, k - 1] + warmth[i, j, k])
                spread[i, j, k] += strength * (mean - level)


@compiled
def push(speed: Floats, is_open: Flags, pressure: Floats, strength: float) -> None:
    """Take the pressure's slope along the first axis off a speed (views: first axis its own)."""
    for i in range(1, pressure.shape[0]):
        for j in range(pressure.shape[1]):
            for k in range(pressure.shape[2]):
                if is_open[i, j, k]:
                    speed[i, j, k] -= strength * (pressure[i, j, k] - pressure[i - 1, j, k])


@compiled
def outflow(x: Floats, y: Floats, z: Floats, steps: Floats, out: Floats) -> float:
    """Fill ``out`` with what flows out of each cell per volume; return the largest size of it."""
    worst = 0.0
    for i in range(out.shape[0]):
        for j in range(out.shape[1]):
            for k in range(out.shape[2]):
                net = (x[i + 1, j, k] - x[i, j, k]) / steps[0]
                net += (y[i, j + 1, k] - y[i, j, k]) / steps[1]
                net += (z[i, j, k + 1] - z[i, j, k]) / steps[2]
                out[i, j, k] = net
                worst = max(worst, abs(net))
    return worst


@compiled
def fastest(x: Floats, y: Floats, z: Floats, steps: Floats) -> float:
    """Return the largest rate at which a cell is crossed, 1/s."""
    worst = 0.0
    for i in range(x.shape[0] - 1):
        for j in range(y.shape[1] - 1):
            for k in range(z.shape[2] - 1):
                rate = max(abs(x[i, j, k]), abs(x[i + 1, j, k])) / steps[0]
                rate += max(abs(y[i, j, k]), abs(y[i, j + 1, k])) / steps[1]
                rate += max(abs(z[i, j, k]), abs(z[i, j, k + 1])) / steps[2]
                worst = max(worst, rate)
    return worst


@compiled
def eddies(
    x: Floats, y: Floats, z: Floats, steps: Floats, viscosity: Floats, calm: float, length: float
) -> None:
    """Fill the viscosity of each cell: that of still air plus (length² · strain rate)."""
    nx, ny, nz = viscosity.shape
    for i in range(nx):
        w, e = max(i - 1, 0), min(i + 1, nx - 1)
        for j in range(ny):
            s, n = max(j - 1, 0), min(j + 1, ny - 1)
            for k in range(nz):
                b, t = max(k - 1, 0), min(k + 1, nz - 1)
                dx = max(e - w, 1) * steps[0] * 2.0
                dy = max(n - s, 1) * steps[1] * 2.0
                dz = max(t - b, 1) * steps[2] * 2.0
                xx = (x[i + 1, j, k] - x[i, j, k]) / steps[0]
                yy = (y[i, j + 1, k] - y[i, j, k]) / steps[1]
                zz = (z[i, j, k + 1] - z[i, j, k]) / steps[2]
                xy = (x[i, n, k] + x[i + 1, n, k] - x[i, s, k] - x[i + 1, s, k]) / dy
                xy += (y[e, j, k] + y[e, j + 1, k] - y[w, j, k] - y[w, j + 1, k]) / dx
                xz = (x[i, j, t] + x[i + 1, j, t] - x[i, j, b] - x[i + 1, j, b]) / dz
                xz += (z[e, j, k] + z[e, j, k + 1] - z[w, j, k] - z[w, j, k + 1]) / dx
                yz = (y[i, j, t] + y[i, j + 1, t] - y[i, j, b] - y[i, j + 1, b]) / dz
                yz += (z[i, n, k] + z[i, n, k + 1] - z[i, s, k] - z[i, s, k + 1]) / dy
                square = 2.0 * (xx * xx + yy * yy + zz * zz) + xy * xy + xz * xz + yz * yz
                viscosity[i, j, k] = calm + length * length * np.sqrt(square)
