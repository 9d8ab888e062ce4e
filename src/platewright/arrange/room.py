"""The room the plate offers: margins round its fixing holes, and regions that stay free."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product

from platewright.foundation.units import Mm
from platewright.model.geometry import Box
from platewright.model.job import FixingHole, Job, Side

_ANYTHING = -1.0  # tallest thing allowed where nothing may stand
_NEAR_EDGE = 0.15  # a region within this share of the plate from an edge is cleared by a margin


@dataclass(frozen=True, slots=True)
class Zone:
    """A region where only things up to ``tallest`` may stand (-1: nothing at all)."""

    box: Box
    tallest: Mm


@dataclass(frozen=True, slots=True)
class Room:
    """What may be used of the plate, and the zones inside it."""

    box: Box
    zones: tuple[Zone, ...]


def _insets(region: Box, width: Mm, height: Mm) -> tuple[tuple[int, Mm], ...]:
    """Return the ways to clear a region by a margin: (side, margin), where it lies near an edge.

    Sides: 0 left, 1 bottom, 2 right, 3 top.
    """
    ways = (
        (0, region.right, width),
        (1, region.top, height),
        (2, width - region.left, width),
        (3, height - region.bottom, height),
    )
    return tuple((side, inset) for side, inset, size in ways if inset <= _NEAR_EDGE * size)


def _margins(regions: Iterable[Box], *, width: Mm, height: Mm, edge: Mm) -> tuple[Mm, Mm, Mm, Mm]:
    """Return margins left, bottom, right, top that clear the regions and leave the most plate."""
    choices = sorted({ways for r in regions if (ways := _insets(r, width, height))})
    best = (edge, edge, edge, edge)
    best_area = -1.0
    for picks in product(*choices):
        margins = [edge, edge, edge, edge]
        for side, inset in picks:
            margins[side] = max(margins[side], math.ceil(inset))
        area = (width - margins[0] - margins[2]) * (height - margins[1] - margins[3])
        if area > best_area:
            best, best_area = (margins[0], margins[1], margins[2], margins[3]), area
    return best


def _door_zones(job: Job) -> list[Zone]:
    """Return where door devices reach behind the door, their swing included.

    One whose place is open keeps nothing free: check leaves it undecided.
    """
    settings = job.settings
    hinge = job.settings.hinge_line
    zones: list[Zone] = []
    for device in job.placed_on_door:
        part = job.part_of(device.tag)
        x, y = device.door_x or 0.0, device.door_y or 0.0
        left, right = x, x + part.width
        far = max(abs(left - hinge), abs(right - hinge))
        swing = math.hypot(far, part.depth) - far
        if settings.enclosure.hinge is Side.LEFT:
            right += swing
        else:
            left -= swing
        tallest = settings.enclosure.door_inside - part.depth - settings.limits.door_gap
        zones.append(Zone(Box(left, y, right, y + part.height), tallest))
    return zones


def _around(hole: FixingHole) -> Box:
    """Return the square round a fixing hole's keep-out."""
    r = hole.keep_out / 2
    return Box(hole.x - r, hole.y - r, hole.x + r, hole.y + r)


def room_on(job: Job) -> Room:
    """Return the usable part of the plate and the zones that limit what may stand where.

    What lies near an edge (fixing holes, stiffeners) is cleared by a margin, so that the ring of
    ducts passes it; the rest are zones that rows and devices go round.
    """
    plate = job.settings.plate
    regions = [_around(h) for h in plate.fixing_holes] + [k.box for k in plate.keep_outs]
    left, bottom, right, top = _margins(
        regions, width=plate.width, height=plate.height, edge=plate.edge_margin
    )
    box = Box(left, bottom, plate.width - right, plate.height - top)
    deepest = job.settings.enclosure.door_inside - job.settings.limits.door_gap
    zones = [Zone(plate.box, deepest)]
    zones += [Zone(region, _ANYTHING) for region in regions if region.overlaps(box)]
    return Room(box, (*zones, *_door_zones(job)))
