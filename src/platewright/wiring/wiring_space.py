"""Room a device needs between its terminals and the duct it is wired to."""

from __future__ import annotations

from collections.abc import Mapping

from platewright.model.need import Need, WiringSpace
from platewright.model.part import Part
from platewright.model.wire import WireSize
from platewright.tables.reader import source_of
from platewright.tables.wiring_rooms import smallest_wiring_room, wiring_room
from platewright.wiring.copper import conductor_area


def wiring_space(part: Part, sizes: Mapping[str, tuple[WireSize, ...]]) -> WiringSpace:
    """Return the room above and below a part's body, by the largest wire on each side.

    ``sizes``: sizes of the listed wires by terminal. A side without terminals needs none; a side
    with terminals but no listed wire is taken to carry the thinnest wires, and says so.
    """
    return WiringSpace(
        top=_need("top", part.terminals_top, sizes),
        bottom=_need("bottom", part.terminals_bottom, sizes),
    )


def _need(
    side: str, terminals: tuple[str, ...], sizes: Mapping[str, tuple[WireSize, ...]]
) -> Need | None:
    if not terminals:
        return None
    listed = [size for terminal in terminals for size in sizes.get(terminal, ())]
    if not listed:
        row = smallest_wiring_room()
        reason = f"terminals on the {side} but no listed wire there: assumed {row.wires}"
        return Need(row.minimum, source_of(row), reason, stated=False)
    largest = max(listed, key=lambda size: (conductor_area(size), str(size)))
    row = wiring_room(conductor_area(largest))
    reason = f"largest wire on the {side} is {largest}: room for wires {row.wires}"
    return Need(row.minimum, source_of(row), reason, stated=True)
