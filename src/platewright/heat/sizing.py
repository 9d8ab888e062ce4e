"""What would keep the inside at the wanted temperature: fan, cooling, heater, a larger box."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Final

from platewright.foundation.units import MM_PER_M, AirFlow, DegC, Kelvin, Mm, Ratio, Watt, WattPerK
from platewright.heat.balance import Skin, Surroundings, heat_through
from platewright.heat.flows import flow_for
from platewright.heat.walls import Box3, walls_of
from platewright.tables.placements import PlacementRow

LARGEST: Final = 2.5  # times width and height: beyond it no enclosure is offered
STEP: Final[Mm] = 50.0  # enclosures come in steps of this
SAME: Final = 1e-9  # of a step


def fan_needed(
    loss: Watt, through_walls: Watt, rise: Kelvin, around: Surroundings, filter_share: Ratio
) -> AirFlow | None:
    """Return the free flow of a fan that holds the rise; 0 where the walls do, ``None``: none can.

    A fan brings outside air: it can't hold the inside at or below the outside.
    """
    if loss <= through_walls:
        return 0.0
    if rise <= 0:
        return None
    flow = flow_for(loss - through_walls, rise, outside=around.outside, pressure=around.pressure)
    return flow / filter_share


def cooling_needed(loss: Watt, through_walls: Watt) -> Watt:
    """Return the useful power of a cooling unit; ``through_walls`` is below 0 in a hot room."""
    return max(0.0, loss - through_walls)


def exchanger_needed(loss: Watt, through_walls: Watt, rise: Kelvin) -> WattPerK | None:
    """Return the heat per kelvin an air-to-air exchanger needs; ``None``: none can."""
    if loss <= through_walls:
        return 0.0
    return None if rise <= 0 else (loss - through_walls) / rise


def heater_needed(
    box: Box3, placement: PlacementRow, skin: Skin, coldest: Surroundings, *, wanted: DegC,
    standby: Watt,
) -> Watt:  # fmt: skip
    """Return the heater that holds the inside at ``wanted`` in the coldest air at standby."""
    lost = heat_through(walls_of(box, placement), skin, coldest, wanted)
    return max(0.0, lost - standby)


def larger_enclosure(box: Box3, is_enough: Callable[[Box3], bool]) -> tuple[Mm, Mm, Mm] | None:
    """Return width, height and depth of the smallest like enclosure that is enough by itself.

    Width and height grow alike, in steps; the depth stays. ``None``: none up to 2.5 times.
    """
    step = STEP / MM_PER_M

    def grown(steps: int) -> Box3:
        higher = box.height + steps * step
        wider = round(box.width * higher / box.height / step) * step
        return replace(box, width=max(box.width, wider), height=higher)

    low, high = -1, math.ceil((LARGEST - 1) * box.height / step)  # too small; perhaps enough
    if not is_enough(grown(high)):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if is_enough(grown(middle)) else (middle, high)
    found = grown(high)
    return found.width * MM_PER_M, found.height * MM_PER_M, found.depth * MM_PER_M


def held_inside(outside: DegC, wanted: DegC, share: Ratio, least: Kelvin) -> DegC:
    """Return the mean inside whose band (a share of its rise, at least so much) ends at ``wanted``.

    Sizing for it instead of for what is wanted makes the answer hold at the upper end of the band.
    """
    away = wanted - outside
    return min(wanted - least, outside + away / (1 + share if away > 0 else 1 - share))


def rounded_up(size: float, step: float) -> float:
    """Return the next size in whole steps, at least one."""
    return step * max(1, math.ceil(size / step - SAME))
