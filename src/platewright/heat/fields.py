"""Pictures of temperature, from the very numbers that the verdicts use."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.foundation.units import MM_PER_M, DegC, Mm
from platewright.heat.air import Floats
from platewright.heat.kernels.wakes import summed_wakes
from platewright.heat.local_air import (
    Bars,
    Climb,
    Constants,
    Room,
    Sources,
    core_at_start,
    wake_halves,
    wake_heights,
    wakes_left,
)
from platewright.model.geometry import Box
from platewright.model.heat import Field

CELL: Final[Mm] = 25.0
LEAST: Final = 8  # cells along a side
MOST: Final = 80


@dataclass(frozen=True, slots=True, kw_only=True)
class Scenery:
    """What a picture is drawn from."""

    room: Room
    sources: Sources
    bars: Bars
    core: Floats  # rise at the core's heights
    convected: Floats  # W to the air
    outside: DegC
    shift: tuple[Mm, Mm]  # plate's corner in the enclosure
    constants: Constants


def pictures(scenery: Scenery) -> tuple[Field, Field]:
    """Return the air from the front, and from the side at the hottest place across.

    Both are drawn from the same wakes, worked out once.
    """
    wakes = _wakes(scenery)
    front = _front(scenery, wakes)
    return front, _side(scenery, wakes, hottest_across(front, scenery.shift))


def _front(scenery: Scenery, wakes: tuple[Floats, Floats]) -> Field:
    """Return the air over the plate seen from the front, in plate coordinates."""
    room, shift = scenery.room, scenery.shift
    strength, reach = wakes
    warmer = summed_wakes(_middles(room.width), scenery.sources.x, strength, reach, False)
    area = Box(
        -shift[0], -shift[1], room.width * MM_PER_M - shift[0], room.height * MM_PER_M - shift[1]
    )
    return _field(scenery, area, warmer)


def _side(scenery: Scenery, wakes: tuple[Floats, Floats], at: float) -> Field:
    """Return the air from plate (left) to door at one place across (m); y in plate coordinates.

    The model has no depth: each wake is drawn as deep as its device, and beyond as wide as its
    own law makes it across the plate.
    """
    room, sources, shift = scenery.room, scenery.sources, scenery.shift
    strength, reach = wakes
    strength = strength * np.exp(-(((at - sources.x) * reach) ** 2))
    warmer = summed_wakes(_middles(room.depth), sources.depth, strength, reach, True)
    area = Box(0.0, -shift[1], room.depth * MM_PER_M, room.height * MM_PER_M - shift[1])
    return _field(scenery, area, warmer)


def hottest_across(field: Field, shift: tuple[Mm, Mm]) -> float:
    """Return where across the room (m) the hottest cell of a front field lies."""
    column = int(field.values.max(axis=0).argmax())
    width = field.area.width / field.values.shape[1]
    return float((field.area.left + shift[0] + (column + 0.5) * width) / MM_PER_M)


def _middles(length: float) -> Floats:
    """Return the middles of evenly spaced cells along a length."""
    cells = min(MOST, max(LEAST, round(length * MM_PER_M / CELL)))
    return (np.arange(cells) + 0.5) * length / cells


def _wakes(scenery: Scenery) -> tuple[Floats, Floats]:
    """Return what is left of each wake, to the power 3/2, and one over its reach, by row."""
    s, y = scenery, _middles(scenery.room.height)
    strength = wake_heights(s.sources, s.bars, y, s.constants)
    here = np.interp(y, s.room.heights, s.core)
    climb = Climb(here=here, start=core_at_start(s.core, s.room, s.sources, s.constants))
    left = wakes_left(strength, s.convected, climb, s.constants)
    return left, np.sqrt(1.5) / wake_halves(s.sources, y, s.constants)


def _field(scenery: Scenery, area: Box, wakes: Floats) -> Field:
    room, y = scenery.room, _middles(scenery.room.height)
    air = scenery.outside + np.interp(y, room.heights, scenery.core)
    return Field(area=area, values=(air[:, None] + wakes).astype(np.float32))
