"""What must stay empty round a device: as its data state, else assumed from its heat."""

from __future__ import annotations

from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.need import ClearSpace, Need
from platewright.model.part import Part
from platewright.tables.heat_gaps import heat_gap
from platewright.tables.reader import source_of

UNKNOWN: Final = Source("no gap known, none kept", standing=Standing.PRACTICE)


def clear_space(part: Part) -> ClearSpace:
    """Return the room each side of a part needs beyond its covers.

    Stated (0 is stated as none): the part's own data. Not stated: a gap assumed from the heat it
    gives off (shop practice). Heat not stated either: none can be derived, and the reason says so.
    """
    return ClearSpace(
        left=_need(part, "left", part.clear_left),
        right=_need(part, "right", part.clear_right),
        top=_need(part, "top", part.clear_top),
        bottom=_need(part, "bottom", part.clear_bottom),
    )


def _need(part: Part, side: str, stated: Mm | None) -> Need:
    if stated is not None:
        source = Source("data of the part", part.source, Standing.JOB)
        return Need(stated, source, "stated", stated=True)
    if part.heat is None:
        reason = "clear space not stated, and heat is not stated to derive it from"
        return Need(0.0, UNKNOWN, reason, stated=False)
    gap = heat_gap(part.heat)
    room = {"top": gap.above, "bottom": gap.below}.get(side, gap.side)
    reason = f"not stated: assumed for {part.heat:g} W"
    return Need(room, source_of(gap), reason, stated=False)
