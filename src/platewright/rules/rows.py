"""Rows: devices whose bodies overlap in height, directly or through others.

What hangs under a device belongs to its row, though it only touches its lower edge.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from platewright.foundation.units import Mm
from platewright.model.geometry import TOUCH, Box
from platewright.rules.placed import Placed

HUNG: Final[Mm] = 50.0  # farther below than covers reach, a device does not hang any more


@dataclass(frozen=True, slots=True)
class Row:
    """One row, its devices from left to right (stacked ones: the upper first)."""

    devices: tuple[Placed, ...]

    @property
    def box(self) -> Box:
        """Footprint of the row's envelopes."""
        box = self.devices[0].envelope
        for one in self.devices[1:]:
            box = box.union(one.envelope)
        return box

    @property
    def name(self) -> str:
        """First and last device, which is how a builder finds a row."""
        first, last = self.devices[0].tag, self.devices[-1].tag
        return first if first == last else f"{first} … {last}"


def rows_of(placed: Iterable[Placed]) -> tuple[Row, ...]:
    """Return the rows from top to bottom."""
    rows: list[list[Placed]] = []
    floor = 0.0  # lower edge of the row being filled
    for hung in sorted(_hung_together(tuple(placed)), key=_highest_first):
        top, bottom = max(one.body.top for one in hung), min(one.body.bottom for one in hung)
        if rows and top > floor + TOUCH:
            rows[-1].extend(hung)
            floor = min(floor, bottom)
        else:
            rows.append(list(hung))
            floor = bottom
    return tuple(
        Row(tuple(sorted(row, key=lambda one: (one.body.left, -one.body.top, one.tag))))
        for row in rows
    )


def _hung_together(placed: tuple[Placed, ...]) -> Iterator[tuple[Placed, ...]]:
    """Yield each device with those that hang under it, which only touch its lower edge."""
    by_tag = {one.tag: one for one in placed}
    below: dict[str, list[Placed]] = {}
    for one in placed:
        upper = by_tag.get(one.device.hangs_under or "")
        if upper is None or abs(upper.body.bottom - one.body.top) > HUNG:
            below.setdefault("", []).append(one)
        else:
            below.setdefault(upper.tag, []).append(one)
    for head in below.get("", []):
        chain = [head]
        for one in chain:  # grows while it is walked
            chain.extend(below.get(one.tag, []))
        yield tuple(chain)


def _highest_first(hung: tuple[Placed, ...]) -> tuple[float, float, str]:
    head = hung[0]
    return -max(one.body.top for one in hung), head.body.left, head.tag
