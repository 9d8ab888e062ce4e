"""How far a rail or duct lies from the plate's edges and from the plate's own fixing holes."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.units import Mm
from platewright.model.geometry import Box
from platewright.model.job import Plate
from platewright.model.layout import Duct, Rail, Run
from platewright.tables.rails import rail_profile

USUAL_RAIL: Mm = 35.0  # width where the profile is not known


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeRoom:
    """Distances of a thing's outline. ``fixing`` ``None``: the plate has no fixing holes.

    ``edge`` below 0: it reaches beyond the plate. ``fixing``: to the circle kept free; below 0:
    it stands in it.
    """

    edge: Mm
    side: str  # which edge is the nearest
    fixing: Mm | None


def edge_room(piece: Rail | Duct, plate: Plate) -> EdgeRoom:
    """Return the room of a rail or duct on its plate."""
    box = piece.box if isinstance(piece, Duct) else _rail_box(piece)
    sides = {
        "left": box.left,
        "lower": box.bottom,
        "right": plate.width - box.right,
        "upper": plate.height - box.top,
    }
    side = min(sides, key=lambda name: sides[name])
    free = [box.distance_to(hole.centre) - hole.keep_out / 2 for hole in plate.fixing_holes]
    return EdgeRoom(edge=sides[side], side=side, fixing=min(free, default=None))


def _rail_box(rail: Rail) -> Box:
    profile = rail_profile(rail.profile)
    half = (profile.width if profile else USUAL_RAIL) / 2
    if rail.run is Run.ACROSS:
        return Box(rail.x, rail.y - half, rail.x + rail.length, rail.y + half)
    return Box(rail.x - half, rail.y, rail.x + half, rail.y + rail.length)
