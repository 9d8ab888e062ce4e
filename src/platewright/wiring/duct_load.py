"""The fullest place of a duct."""

from __future__ import annotations

from collections.abc import Iterable

from platewright.foundation.units import Mm, Mm2
from platewright.wiring.duct_fill import outer_area


def fullest(passing: Iterable[tuple[Mm, Mm, Mm]]) -> tuple[Mm, int, Mm2]:
    """Return place, wires and their area where most area passes.

    ``passing``: (from, to, outside diameter) of each wire along the duct. Wires that only touch
    a place (one ends where the next begins) do not add up there.
    """
    events: list[tuple[Mm, int, Mm2]] = []
    for start, end, diameter in passing:
        area = outer_area(diameter)
        events += [(start, 1, area), (end, -1, -area)]
    events.sort(key=lambda e: (e[0], e[1]))
    best = (0.0, 0, 0.0)
    count, area_now = 0, 0.0
    for at, change, area in events:
        count += change
        area_now += area
        if area_now > best[2] + 1e-9:
            best = (at, count, area_now)
    return best
