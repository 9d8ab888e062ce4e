"""Pictures of temperature, from the very numbers that the verdicts use."""

from __future__ import annotations

from typing import Final

import numpy as np

from platewright.foundation.units import MM_PER_M, DegC, Mm
from platewright.heat.air import Floats
from platewright.heat.gap import W_PER_KW
from platewright.heat.local_air import (
    EDGE,
    LAYERS,
    RAMP,
    ORIGIN,
    Bars,
    Constants,
    Room,
    Sources,
)
from platewright.model.geometry import Box
from platewright.model.heat import Field, Grid

CELL: Final[Mm] = 20.0
MOST: Final = 96  # cells along a side


def front_field(
    room: Room, sources: Sources, bars: Bars, core: Floats, convected: Floats, *, outside: DegC,
    shift: tuple[Mm, Mm], constants: Constants,
) -> Field:  # fmt: skip
    """Return the air over the plate seen from the front, in plate coordinates."""
    columns, rows = _cells(room.width), _cells(room.height)
    x = (np.arange(columns) + 0.5) * room.width / columns
    y = (np.arange(rows) + 0.5) * room.height / rows
    strength, reach = _strengths(sources, bars, y, convected, constants)
    off = np.abs(x[:, None] - sources.x[None, :]).astype(np.float32)
    wakes = _summed(off, strength, reach, sources)
    air = outside + np.interp(y, np.linspace(0, room.height, LAYERS + 1), core)
    area = Box(
        -shift[0], -shift[1], room.width * MM_PER_M - shift[0], room.height * MM_PER_M - shift[1]
    )
    return Field(area=area, values=(air[:, None] + wakes).astype(np.float32))


def side_field(
    room: Room, sources: Sources, bars: Bars, core: Floats, convected: Floats, *, outside: DegC,
    at: float, shift: tuple[Mm, Mm], constants: Constants,
) -> Field:  # fmt: skip
    """Return the air from plate (left) to door at one place across; y in plate coordinates.

    The model has no depth: each wake is drawn across it as wide as its own law makes it across
    the plate, round the middle of its device's depth.
    """
    columns, rows = max(8, _cells(room.depth)), _cells(room.height)
    z = (np.arange(columns) + 0.5) * room.depth / columns
    y = (np.arange(rows) + 0.5) * room.height / rows
    strength, reach = _strengths(sources, bars, y, convected, constants)
    strength = strength * np.exp(-((reach * (at - sources.x[None, :])) ** 2)).astype(np.float32)
    off = np.maximum(0.0, np.abs(z[:, None] - sources.depth[None, :] / 2) - sources.depth / 2)
    wakes = _summed(off.astype(np.float32), strength, reach, sources)
    air = outside + np.interp(y, np.linspace(0, room.height, LAYERS + 1), core)
    area = Box(0.0, -shift[1], room.depth * MM_PER_M, room.height * MM_PER_M - shift[1])
    return Field(area=area, values=(air[:, None] + wakes).astype(np.float32))


def hottest_across(field: Field, shift: tuple[Mm, Mm]) -> float:
    """Return where across the room (m) the hottest cell of a front field lies."""
    column = int(field.values.max(axis=0).argmax())
    width = field.area.width / field.values.shape[1]
    return float((field.area.left + shift[0] + (column + 0.5) * width) / MM_PER_M)


def _cells(length: float) -> int:
    return min(MOST, max(2, round(length * MM_PER_M / CELL)))


def _strengths(
    sources: Sources, bars: Bars, y: Floats, convected: Floats, constants: Constants
) -> tuple[Grid, Grid]:
    """Return strength (to the power 3/2, heat in it) and √1.5 over half width: (rows, devices)."""
    rise = y[:, None] - sources.top[None, :]
    over = np.maximum(rise, 0.0)
    half = constants.wake_foot_width * sources.width + EDGE + constants.wake_spread * over
    high = over + ORIGIN * np.sqrt(sources.width * sources.depth)
    strength = constants.wake_strength**1.5 / (high * high * np.sqrt(high))
    strength *= np.clip(rise / RAMP, 0.0, 1.0) * (convected / W_PER_KW)
    if bars.left.size:
        under = (sources.x > bars.left[:, None]) & (sources.x < bars.right[:, None])
        under &= sources.top <= bars.bottom[:, None]
        met = (y[:, None] >= bars.top).astype(np.float64) @ under.astype(np.float64)
        strength *= constants.duct_pass ** (1.5 * met)
    return strength.astype(np.float32), (np.sqrt(1.5) / half).astype(np.float32)


def _summed(off: Grid, strength: Grid, reach: Grid, sources: Sources) -> Grid:
    """Return the merged wakes (rows, columns): row by row, only what stands below it."""
    order = np.argsort(sources.top, kind="stable")
    off, strength, reach = off[:, order], strength[:, order], reach[:, order]
    below = (strength > 0).cumsum(axis=1).argmax(axis=1) + 1
    total = np.zeros((strength.shape[0], off.shape[0]), dtype=np.float32)
    for row, count in enumerate(below if strength.shape[1] else ()):
        u = off[:, :count] * reach[row, :count]
        np.multiply(u, u, out=u)
        np.negative(u, out=u)
        np.exp(u, out=u)
        total[row] = u @ strength[row, :count]
    return np.asarray(np.cbrt(total) ** 2, dtype=np.float32)
