"""Carrying and spreading of warmth and momentum along one axis of a staggered grid.

Every array arrives as a view whose first axis is the one swept; values stand in cell centres,
speeds on the faces between cells (one more along their own axis). ``carry`` and ``spread``
receive rates (per second). Flux form: what leaves one cell enters the next, so nothing is lost.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.compiled import compiled

Floats = NDArray[np.float64]
Flags = NDArray[np.uint8]


@compiled
def third_order(far: float, behind: float, ahead: float) -> float:
    """Return the value carried over a face: upwind-biased, third order on even cells."""
    return behind + (ahead - behind) / 3.0 + (behind - far) / 6.0


@compiled
def bounded(far: float, behind: float, ahead: float) -> float:
    """Return the same value, held between its neighbours (limiter of Koren 1993)."""
    rise = ahead - behind
    before = behind - far
    if rise * before <= 0.0:
        return behind
    step = (2.0 * rise + before) / 6.0
    if rise > 0.0:
        return behind + min(step, rise, before)
    return behind + max(step, rise, before)


@compiled
def sweep_warmth(
    warmth: Floats,
    air: Flags,
    speed: Floats,
    spreading: Floats,
    film: Floats,
    carry: Floats,
    spread: Floats,
    step: float,
) -> None:
    """Add the rates of change of a temperature by carrying and conduction along the first axis.

    ``film``: heat transfer over ρ·c of the low and the high wall (m/s), and their temperatures.
    """
    cells = warmth.shape[0]
    for j in range(warmth.shape[1]):
        for k in range(warmth.shape[2]):
            carried = 0.0
            spread_in = film[0] * (warmth[0, j, k] - film[1])
            for i in range(cells):
                carried_on = 0.0
                spread_on = 0.0
                here = warmth[i, j, k]
                if i == cells - 1:
                    spread_on = film[2] * (film[3] - here)
                elif air[i, j, k] and air[i + 1, j, k]:
                    c = speed[i + 1, j, k]
                    there = warmth[i + 1, j, k]
                    if c >= 0.0:
                        far = here
                        if i > 0 and air[i - 1, j, k]:
                            far = warmth[i - 1, j, k]
                        carried_on = c * bounded(far, here, there)
                    else:
                        far = there
                        if i + 2 < cells and air[i + 2, j, k]:
                            far = warmth[i + 2, j, k]
                        carried_on = c * bounded(far, there, here)
                    ease = 0.5 * (spreading[i, j, k] + spreading[i + 1, j, k])
                    spread_on = ease * (there - here) / step
                if air[i, j, k]:
                    carry[i, j, k] += (carried - carried_on) / step
                    spread[i, j, k] += (spread_on - spread_in) / step
                carried = carried_on
                spread_in = spread_on


@compiled
def sweep_along(
    speed: Floats, viscosity: Floats, carry: Floats, spread: Floats, step: float
) -> None:
    """Add the rates of change of a speed along its own axis."""
    cells = viscosity.shape[0]
    for j in range(speed.shape[1]):
        for k in range(speed.shape[2]):
            carried = 0.0
            dragged = 0.0
            for i in range(cells):
                here = speed[i, j, k]
                there = speed[i + 1, j, k]
                c = 0.5 * (here + there)
                if c >= 0.0:
                    far = speed[i - 1, j, k] if i > 0 else 2.0 * here - there
                    carried_on = c * third_order(far, here, there)
                else:
                    far = speed[i + 2, j, k] if i + 2 <= cells else 2.0 * there - here
                    carried_on = c * third_order(far, there, here)
                dragged_on = viscosity[i, j, k] * (there - here) / step
                if i > 0:
                    carry[i, j, k] += (carried - carried_on) / step
                    spread[i, j, k] += (dragged_on - dragged) / step
                carried = carried_on
                dragged = dragged_on


@compiled
def sweep_across(
    speed: Floats,
    is_open: Flags,
    crossing: Floats,
    viscosity: Floats,
    carry: Floats,
    spread: Floats,
    step: float,
    own: int,
    mirror: float,
) -> None:
    """Add the rates of change of a speed along another axis, crossed by that axis' speed.

    ``own``: 1 or 2, the place of the speed's own axis. ``mirror``: value beyond an outer wall
    over the value before it, −1 for a wall that holds the air, +1 for one it slides along.
    """
    one, two = (1, 0) if own == 1 else (0, 1)
    cells = speed.shape[0]
    for j in range(one, speed.shape[1] - one):
        for k in range(two, speed.shape[2] - two):
            carried = 0.0
            held = viscosity[0, j - one, k - two] + viscosity[0, j, k]
            dragged = 0.5 * (1.0 - mirror) * held * speed[0, j, k] / step
            for i in range(cells):
                here = speed[i, j, k]
                held = viscosity[i, j - one, k - two] + viscosity[i, j, k]
                carried_on = 0.0
                if i == cells - 1:
                    dragged_on = 0.5 * (mirror - 1.0) * held * here / step
                    dragged_next = 0.0
                else:
                    there = speed[i + 1, j, k]
                    next_held = viscosity[i + 1, j - one, k - two] + viscosity[i + 1, j, k]
                    c = 0.5 * (crossing[i + 1, j - one, k - two] + crossing[i + 1, j, k])
                    if is_open[i, j, k] and is_open[i + 1, j, k]:
                        if c >= 0.0:
                            far = mirror * here if i == 0 else -here
                            if i > 0 and is_open[i - 1, j, k]:
                                far = speed[i - 1, j, k]
                            carried_on = c * third_order(far, here, there)
                        else:
                            far = mirror * there if i + 2 == cells else -there
                            if i + 2 < cells and is_open[i + 2, j, k]:
                                far = speed[i + 2, j, k]
                            carried_on = c * third_order(far, there, here)
                        dragged_on = 0.25 * (held + next_held) * (there - here) / step
                        dragged_next = dragged_on
                    else:  # a solid between: its face holds the air half a cell away
                        carried_on = 0.5 * c * (here + there)
                        dragged_on = -held * here / step
                        dragged_next = next_held * there / step
                if is_open[i, j, k]:
                    carry[i, j, k] += (carried - carried_on) / step
                    spread[i, j, k] += (dragged_on - dragged) / step
                carried = carried_on
                dragged = dragged_next
