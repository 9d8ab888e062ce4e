"""The walls of an enclosure: size, which way they face, whether air passes them outside."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from platewright.foundation.units import M2, MM_PER_M, Metre
from platewright.model.job import Enclosure
from platewright.tables.placements import WALLS, Exposure, PlacementRow, area_factor


class Facing(StrEnum):
    """Which way a wall faces."""

    SIDE = "side"
    UP = "up"
    DOWN = "down"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """One wall."""

    name: str
    area: M2
    length: Metre  # its height, or area over perimeter where it lies flat
    facing: Facing
    exposure: Exposure


@dataclass(frozen=True, slots=True, kw_only=True)
class Box3:
    """Width, height, depth in metres."""

    width: Metre
    height: Metre
    depth: Metre


def box_of(enclosure: Enclosure) -> Box3:
    """Return the enclosure's outside in metres."""
    return Box3(
        width=enclosure.width / MM_PER_M,
        height=enclosure.height / MM_PER_M,
        depth=enclosure.depth / MM_PER_M,
    )


def walls_of(box: Box3, placement: PlacementRow) -> tuple[Wall, ...]:
    """Return the six walls of an enclosure as it stands."""
    w, h, d = box.width, box.height, box.depth
    flat = w * d / (2 * (w + d))
    sizes = {
        "front": (w * h, h, Facing.SIDE),
        "back": (w * h, h, Facing.SIDE),
        "left": (h * d, h, Facing.SIDE),
        "right": (h * d, h, Facing.SIDE),
        "top": (w * d, flat, Facing.UP),
        "floor": (w * d, flat, Facing.DOWN),
    }
    return tuple(
        Wall(
            name=name, area=sizes[name][0], length=sizes[name][1], facing=sizes[name][2],
            exposure=getattr(placement, name),
        )
        for name in WALLS
    )  # fmt: skip


def effective_area(walls: tuple[Wall, ...]) -> M2:
    """Return A_e = Σ b·A of the power-law method. Checked: HEAT-21."""
    return sum(wall.area * area_factor(wall.name, wall.exposure) for wall in walls)
