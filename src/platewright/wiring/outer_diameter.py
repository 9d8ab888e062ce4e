"""Outside diameter of a wire."""

from __future__ import annotations

from typing import Final

from platewright.foundation.units import Mm
from platewright.model.job import Practice
from platewright.model.wire import Wire
from platewright.tables.wires import WireRow, wire_row

# what is pulled where the wire list names no type; the first that comes in the size is meant
USUAL_TYPES: Final[dict[Practice, tuple[str, ...]]] = {
    Practice.NORTH_AMERICA: ("MTW", "H05V-K", "H07V-K"),
    Practice.IEC: ("H05V-K", "H07V-K", "MTW"),
}


def outer_diameter_row(wire: Wire, practice: Practice) -> WireRow | None:
    """Return the table row of a wire's type and size; ``None``: the tables have no such wire."""
    types = (wire.type,) if wire.type.strip() else USUAL_TYPES[practice]
    rows = (wire_row(wire.size, name) for name in types)
    return next((row for row in rows if row is not None), None)


def outer_diameter(wire: Wire, practice: Practice) -> Mm | None:
    """Return the outside diameter: as measured, else the largest the tables give for the type.

    ``None``: not measured, and the tables have no such type and size.
    """
    if wire.outer_diameter is not None:
        return wire.outer_diameter
    row = outer_diameter_row(wire, practice)
    return None if row is None else row.outer_diameter
