"""Where an end stop goes: at each end of a row on a rail, if the rail is long enough for it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from platewright.fabricate.build_tasks import hung_on
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.job import DisplayUnit, Job
from platewright.model.layout import Layout
from platewright.model.lengths import room_words, with_unit
from platewright.tables.tools import tool

HAIR: Final = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class RailEnd:
    """One end of a rail that carries devices. ``free``: rail beyond the last device's body."""

    rail: str
    side: str  # left, right
    free: Mm

    @property
    def takes_stop(self) -> bool:
        """Tell whether an end stop has room here."""
        return self.free >= tool("end stop") - HAIR


def rail_ends(job: Job, layout: Layout) -> tuple[RailEnd, ...]:
    """Return both ends of every rail across the plate that carries devices, rail by rail."""
    carried: dict[str, list[str]] = {}
    for tag, name in hung_on(job, layout):
        carried.setdefault(name, []).append(tag)
    ends = []
    for name in sorted(carried, key=tag_order):
        rail = layout.rails[name]
        first = min(layout.devices[tag].x for tag in carried[name])
        last = max(layout.devices[tag].x + job.part_of(tag).width for tag in carried[name])
        ends.append(RailEnd(rail=name, side="left", free=first - rail.x))
        ends.append(RailEnd(rail=name, side="right", free=rail.x + rail.length - last))
    return tuple(ends)


def stop_words(ends: tuple[RailEnd, ...], unit: DisplayUnit) -> str:
    """Return where the end stops of one rail go, and where there is no room for one."""
    wide = tool("end stop")
    if all(end.takes_stop for end in ends):
        return "End stops at both ends."
    short = [end for end in ends if not end.takes_stop]
    room = " and ".join(
        f"at the {end.side} the rail reaches {room_words(end.free, unit)} beyond the row"
        for end in short
    )
    taking = "".join(f"End stop at the {end.side} end. " for end in ends if end.takes_stop)
    return (
        f"{taking}{room[0].upper()}{room[1:]}: no room for an end stop {with_unit(wide, unit)} wide. See that "
        "what stands beside holds the row, or use a narrower one."
    )
