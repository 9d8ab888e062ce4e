"""Where everything stands: the content of ``layout.toml``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from annotated_types import Gt

from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point


class Run(StrEnum):
    """Direction in which a rail or duct runs."""

    ACROSS = "across"
    UPRIGHT = "upright"


class HoleKind(StrEnum):
    """How a hole holds what it holds."""

    TAPPED = "tapped"
    CLEARANCE = "clearance"  # through hole, bolt and nut behind
    RIVET = "rivet"
    SELF_TAPPING = "self-tapping"


class HoleState(StrEnum):
    """What has been done about a hole. A drilled hole never moves; a mark can be wiped off."""

    PLANNED = "planned"
    MARKED = "marked"
    DRILLED = "drilled"


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """Lower left corner of a device's body."""

    x: Annotated[Mm, "Left edge of the body"]
    y: Annotated[Mm, "Lower edge of the body"]
    locked: Annotated[bool, "Plan leaves it where it is"] = False
    part: Annotated[str, "Part it was when it was put there; blank: not written down"] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Duct:
    """One stretch of wire duct: lower left corner, size, direction."""

    x: Annotated[Mm, "Left edge"]
    y: Annotated[Mm, "Lower edge"]
    length: Annotated[Mm, Gt(0), "Length of the piece"]
    width: Annotated[Mm, Gt(0), "Outside width"]
    height: Annotated[Mm, Gt(0), "Height without cover"]
    run: Annotated[Run, "across or upright"]
    stock: Annotated[str, "Name of the stock duct"] = ""
    locked: Annotated[bool, "Plan leaves it where it is"] = False

    @property
    def box(self) -> Box:
        """Footprint on the plate."""
        if self.run is Run.ACROSS:
            return Box(self.x, self.y, self.x + self.length, self.y + self.width)
        return Box(self.x, self.y, self.x + self.width, self.y + self.length)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail:
    """One piece of rail: its left (or lower) end on the axis, length, direction."""

    x: Annotated[Mm, "Left end (upright rails: axis)"]
    y: Annotated[Mm, "Axis (upright rails: lower end)"]
    length: Annotated[Mm, Gt(0), "Length of the piece"]
    profile: Annotated[str, "Rail profile"] = "TH35-7.5"
    run: Annotated[Run, "across or upright"] = Run.ACROSS
    locked: Annotated[bool, "Plan leaves it where it is"] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """One hole to drill, or drilled."""

    x: Annotated[Mm, "Centre from the left edge"]
    y: Annotated[Mm, "Centre from the lower edge"]
    kind: Annotated[HoleKind, "tapped, clearance, rivet or self-tapping"]
    size: Annotated[str, "Thread or screw, e.g. M5"]
    drill: Annotated[Mm, Gt(0), "Drill diameter"]
    holds: Annotated[str, "Tag of the device, rail or duct it holds; blank: left over"] = ""
    state: Annotated[HoleState, "planned, marked or drilled"] = HoleState.PLANNED

    @property
    def centre(self) -> Point:
        """Centre of the hole."""
        return Point(self.x, self.y)

    @property
    def is_idle_mark(self) -> bool:
        """Whether it is marked on the plate only and holds nothing: wiped off, never drilled."""
        return self.state is HoleState.MARKED and not self.holds

    @property
    def is_to_drill(self) -> bool:
        """Whether a drill still goes there."""
        return self.state is not HoleState.DRILLED and not self.is_idle_mark


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Everything that stands on the plate, by tag, in a fixed order."""

    format: Annotated[int, "Format of the file"] = 1
    devices: Annotated[Mapping[str, Placement], "Devices by tag"] = field(default_factory=dict)
    ducts: Annotated[Mapping[str, Duct], "Ducts by tag"] = field(default_factory=dict)
    rails: Annotated[Mapping[str, Rail], "Rails by tag"] = field(default_factory=dict)
    holes: Annotated[Mapping[str, Hole], "Holes by tag"] = field(default_factory=dict)
