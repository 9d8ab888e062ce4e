"""One placed thing with a designation: a row of ``devices.csv``."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from annotated_types import Ge, Le

from platewright.foundation.units import Mm, Ratio


class Place(StrEnum):
    """Where a device goes."""

    PLATE = "plate"
    DOOR = "door"


class Edge(StrEnum):
    """A wish for one end of the plate."""

    TOP = "top"
    BOTTOM = "bottom"


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """A device: what it is, what it belongs to, and what is wished of its place."""

    tag: Annotated[str, "Designation, e.g. -T1"]
    part: Annotated[str, "Part type: a row of parts.csv"]
    function: Annotated[str, "What it does, in a few words"] = ""
    circuit: Annotated[str, "Circuit it belongs to"] = ""
    group: Annotated[tuple[str, ...], "Voltage group, or several, e.g. M or M C"] = ()
    place: Annotated[Place, "plate or door"] = Place.PLATE
    load: Annotated[
        Ratio, Ge(0), Le(1.5), "Share of its rated load it carries; its heat is counted so"
    ] = 1.0
    door_x: Annotated[Mm | None, "Door devices: left edge, in plate coordinates"] = None
    door_y: Annotated[Mm | None, "Door devices: lower edge, in plate coordinates"] = None
    plugs_into: Annotated[str | None, "Must stand at once right of this device (plugs into it)"] = (
        None
    )
    hangs_under: Annotated[str | None, "Must hang at once under this device (linked pair)"] = None
    beside: Annotated[str | None, "Wish: next to this device"] = None
    same_row: Annotated[str | None, "Wish: in the row of this device"] = None
    before: Annotated[str | None, "Wish: left of this device or in a higher row"] = None
    not_beside: Annotated[str | None, "Wish: never next to this device"] = None
    at: Annotated[Edge | None, "Wish: in the top or the bottom row"] = None
