"""A rail must not pass under what does not hang on it, nor under a duct."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import GEOMETRY
from platewright.model.finding import Reading
from platewright.model.geometry import Box
from platewright.model.layout import Rail
from platewright.model.panel import Panel
from platewright.model.part import Mount
from platewright.rules.distances import overlaps, overlaps_within
from platewright.rules.judge import Limit, at_most, holds
from platewright.rules.placed import OFF_AXIS, Placed, placed_devices, rail_box
from platewright.rules.registry import rule
from platewright.rules.wording import common, way_out

TOUCHING: Final = Limit(value=0.0, source=GEOMETRY)


@rule(
    id="space.rail-clash",
    title="Rails pass under nothing else",
    why="A screw-mounted device cannot lie flat across a rail, a duct cannot lie over it, and a "
    "rail device has one place for a rail: a second one under its body lifts it off.",
    source=GEOMETRY,
)
def check_rail_clash(panel: Panel) -> Iterator[Reading]:
    """Measure how far each rail reaches under bodies, ducts and other rails."""
    rails = sorted(panel.layout.rails.items())
    boxes = [rail_box(rail) for _, rail in rails]
    placed = placed_devices(panel)
    ducts = sorted(panel.layout.ducts.items())
    told = [
        _reading(rails[i][0], boxes[i], placed[j].tag, placed[j].body)
        for i, j in overlaps(boxes, [one.body for one in placed])
        if not _may_hang_on(placed[j], rails[i][1])
    ]
    told += [
        _reading(rails[i][0], boxes[i], ducts[j][0], ducts[j][1].box)
        for i, j in overlaps(boxes, [duct.box for _, duct in ducts])
    ]
    told += [
        _reading(rails[i][0], boxes[i], rails[j][0], boxes[j]) for i, j in overlaps_within(boxes)
    ]
    yield from told
    if rails and not told:
        yield holds("", message=f"{len(rails)} rails, none passes under anything else")


def _may_hang_on(one: Placed, rail: Rail) -> bool:
    """Tell whether this is the device's own rail; off its axis is told by on-rail."""
    if one.part.mount is not Mount.RAIL:
        return False
    centre, box = one.part.rail_center, rail_box(rail)
    return centre is None or abs(rail.y - one.body.bottom - centre) < max(box.height / 2, OFF_AXIS)


def _reading(rail: str, box: Box, tag: str, other: Box) -> Reading:
    return at_most(
        rail,
        what=f"rail {rail} reaches under {tag} by",
        measured=min(box.overlap(other)),
        limit=TOUCHING,
        cure=f"Move {tag} {way_out(other, box)}, or shorten rail {rail}",
        place=common(box, other),
    )
