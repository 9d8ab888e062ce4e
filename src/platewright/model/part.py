"""A type of thing with its data: a row of ``parts.csv``."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from annotated_types import Ge, Gt

from platewright.foundation.units import DegC, Kg, Mm, Nm, PerKelvin, Watt, WattPerK


class Mount(StrEnum):
    """How a part is held."""

    RAIL = "rail"
    SCREWS = "screws"


class HoleForm(StrEnum):
    """Form of the fixing holes in the part itself.

    No screw head passes a slot, which is closed all round: such a part is held in place before its
    screws go in. One with keyholes, or with slots open at its edge, is hung on screws started
    before.
    """

    ROUND = "round"
    SLOT = "slot"
    OPEN_SLOT = "open-slot"
    KEYHOLE = "keyhole"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part type. ``None`` means "not stated", never 0. Sides are seen from the front.

    Adding a field is one line here: column, reader, writer, help and schema follow from it.
    """

    part: Annotated[str, "Name of the part type; devices.csv refers to it"]
    description: Annotated[str, "What it is, in a few words"] = ""
    kind: Annotated[str, "Kind of part, e.g. breaker, relay, terminal; groups lists"] = ""
    width: Annotated[Mm, Gt(0), "Body width, covers off"]
    height: Annotated[Mm, Gt(0), "Body height, covers off"]
    depth: Annotated[Mm, Gt(0), "Body depth from the plate face, a 7.5 mm rail included"]
    cover_left: Annotated[Mm | None, Ge(0), "Reach of covers, handles, plugs past the body"] = None
    cover_right: Annotated[Mm | None, Ge(0), "Reach of covers past the body, right"] = None
    cover_top: Annotated[Mm | None, Ge(0), "Reach of covers past the body, top"] = None
    cover_bottom: Annotated[Mm | None, Ge(0), "Reach of covers past the body, bottom"] = None
    cover_front: Annotated[Mm | None, Ge(0), "Reach of covers, plugs past the body, front"] = None
    clear_left: Annotated[
        Mm | None, Ge(0), "Must stay empty beyond the cover; blank: not stated"
    ] = None
    clear_right: Annotated[Mm | None, Ge(0), "Must stay empty beyond the cover, right"] = None
    clear_top: Annotated[Mm | None, Ge(0), "Must stay empty beyond the cover, top"] = None
    clear_bottom: Annotated[Mm | None, Ge(0), "Must stay empty beyond the cover, bottom"] = None
    mount: Annotated[Mount, "rail or screws"]
    rail_center: Annotated[
        Mm | None, Ge(0), "Rail centre above the body's lower edge (mount rail)"
    ] = None
    snap_travel: Annotated[Mm | None, Ge(0), "Lift needed to unhook it from the rail"] = None
    hole_pattern_width: Annotated[Mm | None, Ge(0), "Hole pattern, centre to centre, across"] = None
    hole_pattern_height: Annotated[Mm | None, Ge(0), "Hole pattern, centre to centre, upright"] = (
        None
    )
    hole_offset_x: Annotated[Mm, "Pattern centre right of the body centre"] = 0.0
    hole_offset_y: Annotated[Mm, "Pattern centre above the body centre"] = 0.0
    hole_form: Annotated[
        HoleForm,
        "round; slot: a long hole closed all round, its screws go in once the part is held in place; "
        "open-slot: one open at the part's edge, and keyhole: hung on screws started before",
    ] = HoleForm.ROUND
    slot_length: Annotated[
        Mm | None, Gt(0), "Length of a slot; of an open one, from its closed end to the edge"
    ] = None
    screw: Annotated[str | None, "Thread of the fixing screws, e.g. M5 or 10-32"] = None
    cutout_width: Annotated[Mm | None, Gt(0), "Cut-out it needs in a door, across"] = None
    cutout_height: Annotated[Mm | None, Gt(0), "Cut-out it needs in a door, upright"] = None
    cutout_diameter: Annotated[Mm | None, Gt(0), "Round cut-out it needs in a door"] = None
    shaft_x: Annotated[
        Mm | None, "Shaft to a handle on the door, right of the body centre; blank: no shaft"
    ] = None
    shaft_y: Annotated[Mm | None, "The same shaft, above the body centre"] = None
    handle_diameter: Annotated[
        Mm | None, Gt(0), "Room that the handle takes on the door; blank: 80 assumed"
    ] = None
    mount_torque: Annotated[Nm | None, Gt(0), "Tightening torque of the fixing screws"] = None
    terminals_top: Annotated[tuple[str, ...], "Terminals on the top side, left to right"] = ()
    terminals_bottom: Annotated[tuple[str, ...], "Terminals on the bottom side, left to right"] = ()
    terminals_left: Annotated[tuple[str, ...], "Terminals on the left side, top to bottom"] = ()
    terminals_right: Annotated[tuple[str, ...], "Terminals on the right side, top to bottom"] = ()
    terminal_torque: Annotated[Nm | None, Ge(0), "Torque of the terminal screws; 0: spring"] = None
    shared_terminals: Annotated[tuple[str, ...], "Terminals that may take two wires"] = ()
    heat: Annotated[Watt | None, Ge(0), "Heat given off at rated load"] = None
    heat_limit: Annotated[DegC | None, "Warmest air it may stand in at full load"] = None
    derating: Annotated[
        PerKelvin | None, Gt(0), "Share of its load to give up per kelvin above heat_limit"
    ] = None
    surface_limit: Annotated[
        DegC | None, "Warmest its own side may get from a neighbour; blank: 70 assumed"
    ] = None
    plate_conduction: Annotated[
        WattPerK | None, Ge(0), "Heat it gives into the plate per kelvin; blank: by its mounting"
    ] = None
    mass: Annotated[Kg | None, Ge(0), "Mass"] = None
    source: Annotated[str, "Where the values come from: data sheet, measured, typical"] = ""

    @property
    def is_slotted(self) -> bool:
        """Tell whether a screw may stand anywhere along its fixing holes."""
        return self.hole_form in {HoleForm.SLOT, HoleForm.OPEN_SLOT}

    @property
    def terminals(self) -> tuple[str, ...]:
        """All terminals: top, bottom, left, right."""
        return (
            self.terminals_top + self.terminals_bottom + self.terminals_left + self.terminals_right
        )
