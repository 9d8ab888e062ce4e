"""One enclosure the shop can get: a row of its list of enclosures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from annotated_types import Ge, Gt

from platewright.foundation.units import Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class EnclosureStock:
    """An enclosure with its plate. Blank: as the job's own enclosure and plate have it."""

    name: Annotated[str, "What the shop calls it"]
    width: Annotated[Mm, Gt(0), "Outside width"]
    height: Annotated[Mm, Gt(0), "Outside height"]
    depth: Annotated[Mm, Gt(0), "Outside depth"]
    door_inside: Annotated[Mm, Gt(0), "From the plate face to the inner face of the closed door"]
    plate_width: Annotated[Mm, Gt(0), "Width of the mounting plate"]
    plate_height: Annotated[Mm, Gt(0), "Height of the mounting plate"]
    plate_thickness: Annotated[Mm | None, Gt(0), "Thickness of the plate; blank: as the job's"] = (
        None
    )
    plate_material: Annotated[str, "Material of the plate; blank: as the job's"] = ""
    material: Annotated[str, "Wall material; blank: as the job's"] = ""
    fixing_inset: Annotated[
        Mm | None,
        Gt(0),
        "Fixing holes of the plate: this far from both edges at each corner; blank: none",
    ] = None
    fixing_keep_out: Annotated[Mm, Gt(0), "Diameter kept free round a fixing hole"] = 30.0
    price: Annotated[
        int | None, Ge(0), "Price in whole units of the shop's money; blank: unknown"
    ] = None
