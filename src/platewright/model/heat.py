"""How warm it gets, as the heat stage hands it on. Every temperature carries its band."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.units import M2, AirFlow, DegC, Kelvin, Mm, Ratio, Watt, WattPerK
from platewright.model.geometry import Box

Grid: TypeAlias = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Banded:
    """A number with how far it may be off either way."""

    value: float
    band: float

    @property
    def low(self) -> float:
        """Lower end."""
        return self.value - self.band

    @property
    def high(self) -> float:
        """Upper end."""
        return self.value + self.band


@dataclass(frozen=True, slots=True, kw_only=True)
class DeviceLoss:
    """Heat one device gives off."""

    tag: str
    watts: Watt
    load: Ratio
    note: str = ""  # why it is assumed; blank: stated by the part's data


@dataclass(frozen=True, slots=True, kw_only=True)
class Losses:
    """All heat inside the enclosure. ``unknown``: devices counted as none for want of a datum."""

    devices: tuple[DeviceLoss, ...]
    wires: Watt
    wires_known: int  # wires whose current is stated
    wires_all: int
    unknown: tuple[str, ...]
    in_door: Watt = 0.0  # of the devices in the door
    wires_unrouted: int = 0  # current stated, but no route yet: counted as none

    @property
    def total(self) -> Watt:
        """Sum of all that is known."""
        return sum(one.watts for one in self.devices) + self.wires

    @property
    def parts(self) -> str:
        """What the total is made up of, in words."""
        on_plate = self.total - self.wires - self.in_door
        wires = f"wires {self.wires:.1f} W"
        if self.wires_unrouted:
            wires += f" ({self.wires_unrouted} have no route yet and are not counted)"
        return f"devices of the plate {on_plate:.1f} W, of the door {self.in_door:.1f} W, {wires}"


@dataclass(frozen=True, slots=True, kw_only=True)
class WallHeat:
    """One wall of the enclosure in the balance."""

    name: str
    area: M2
    is_open: bool
    temperature: DegC
    heat: Watt


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """Mean air inside, by both methods."""

    outside: DegC
    wanted: DegC  # warmest air wanted inside
    wanted_is_stated: bool
    inside: Banded  # the hotter of both methods
    by_walls: DegC
    by_power_law: DegC | None
    no_power_law: str  # why the second method has no answer
    top_by_power_law: DegC | None
    walls: tuple[WallHeat, ...]
    carried: Watt  # by fan, vents or exchanger
    cooled: Watt  # by a cooling unit
    missing: Watt  # what the balance fails to close by

    @property
    def rise(self) -> Kelvin:
        """Mean rise of the inside over the outside air."""
        return self.inside.value - self.outside

    @property
    def difference(self) -> Kelvin | None:
        """By how much the power law is hotter than the wall balance."""
        return None if self.by_power_law is None else self.by_power_law - self.by_walls


@dataclass(frozen=True, slots=True, kw_only=True)
class DeviceHeat:
    """One device on the plate."""

    tag: str
    box: Box
    loss: Watt
    air: Banded  # that reaches its foot
    surface: Banded  # mean over its housing
    foot: Watt  # into the plate
    limit: DegC | None  # warmest air it may stand in, at its load
    limit_note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Facing:
    """A warm device and what stands beside, above or below it."""

    tag: str
    side: str  # left, right, top or bottom of the device
    other: str
    other_is_duct: bool
    distance: Mm
    needed: Mm | None  # smallest distance; ``None``: none up to the largest looked at
    needed_band: Mm
    temperature: Banded  # hottest point of the other, at this distance
    limit: DegC
    limit_is_stated: bool
    place: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """Temperatures on a grid, °C; rows from below, columns from the left (or from the plate)."""

    area: Box
    values: Grid  # (rows, columns)


@dataclass(frozen=True, slots=True, kw_only=True)
class Needs:
    """What would bring the inside to the wanted temperature. ``None``: cannot, or not needed."""

    fan: AirFlow | None  # blowing freely, filter counted
    cooling: Watt | None
    exchanger: WattPerK | None
    heater: Watt | None
    larger: tuple[Mm, Mm, Mm] | None  # width, height, depth of an enclosure that needs none
    dew_point: DegC | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelHeat:
    """The whole panel."""

    losses: Losses
    level: Level
    devices: Mapping[str, DeviceHeat]
    facings: tuple[Facing, ...]
    front: Field  # air over the plate, seen from the front
    side: Field  # air from plate to door, at the hottest column
    plate: Field  # the plate itself
    assumed: tuple[str, ...]  # what was taken because the job does not state it
    cautions: tuple[str, ...]  # what the model cannot know here

    @property
    def ducts(self) -> dict[str, Facing]:
        """Hottest facing of every duct."""
        hottest: dict[str, Facing] = {}
        for one in self.facings:
            if one.other_is_duct and (
                one.other not in hottest
                or one.temperature.value > hottest[one.other].temperature.value
            ):
                hottest[one.other] = one
        return hottest
