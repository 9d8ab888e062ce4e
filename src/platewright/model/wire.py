"""One conductor from terminal to terminal: a row of ``wires.csv``."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from annotated_types import Ge, Gt

from platewright.foundation.units import Ampere, Mm


class SizeSystem(StrEnum):
    """Which size series a wire size belongs to."""

    AWG = "AWG"
    MM2 = "mm2"


@dataclass(frozen=True, slots=True)
class WireSize:
    """A conductor size as it is written on the reel: ``14 AWG``, ``1/0 AWG``, ``1.5 mm2``."""

    number: str
    system: SizeSystem

    def __str__(self) -> str:
        return f"{self.number} {'AWG' if self.system is SizeSystem.AWG else 'mm²'}"


@dataclass(frozen=True, slots=True)
class End:
    """One end of a wire: a terminal of a device, written ``-Q1:2``."""

    device: str
    terminal: str

    def __str__(self) -> str:
        return f"{self.device}:{self.terminal}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """One wire."""

    number: Annotated[str, "Wire number, printed on both ends"]
    start: Annotated[End, "First end: device:terminal"]
    end: Annotated[End, "Second end: device:terminal"]
    size: Annotated[WireSize, "Conductor size: 14 AWG or 1.5 mm2"]
    type: Annotated[
        str, "Insulation type, e.g. MTW, THHN, H07V-K; blank: usual for the practice"
    ] = ""
    colour: Annotated[str, "Colour of the insulation"] = ""
    group: Annotated[str, "Voltage group"] = ""
    circuit: Annotated[str, "Circuit it belongs to"] = ""
    outer_diameter: Annotated[
        Mm | None, Gt(0), "Measured outside diameter; blank: from the tables"
    ] = None
    current: Annotated[Ampere | None, Ge(0), "Current it carries in service"] = None
