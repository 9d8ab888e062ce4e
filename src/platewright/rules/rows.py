"""Rows: devices whose bodies overlap in height, directly or through others."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from platewright.model.geometry import TOUCH, Box
from platewright.rules.placed import Placed


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
    for one in sorted(placed, key=lambda one: (-one.body.top, one.body.left, one.tag)):
        if rows and one.body.top > floor + TOUCH:
            rows[-1].append(one)
            floor = min(floor, one.body.bottom)
        else:
            rows.append([one])
            floor = one.body.bottom
    return tuple(
        Row(tuple(sorted(row, key=lambda one: (one.body.left, -one.body.top, one.tag))))
        for row in rows
    )
