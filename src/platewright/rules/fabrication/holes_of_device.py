"""Each screw-mounted device finds its holes where its feet are."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.geometry import Point
from platewright.model.layout import Hole
from platewright.model.panel import Panel, hole_offsets
from platewright.rules.judge import Limit, at_most, breaks
from platewright.rules.placed import Placed, placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import tightest

SOURCE: Final = Source(
    "geometry", "a screw goes through foot and plate in one line", Standing.GEOMETRY
)
OFF: Final[Mm] = 0.5  # what a hand-marked hole may be off and the screw still goes in
NEAR: Final = Limit(value=OFF, source=SOURCE)


@rule(
    id="fabrication.holes-of-device",
    title="Devices find their holes",
    why="A hole that is missing or beside the foot is drilled later, with chips among the devices.",
    source=SOURCE,
)
def check_holes_of_device(panel: Panel) -> Iterator[Reading]:
    """Measure from each foot to the nearest hole that holds the device."""
    holding: dict[str, list[tuple[str, Hole]]] = {}
    for tag, hole in sorted(panel.layout.holes.items()):
        holding.setdefault(hole.holds, []).append((tag, hole))
    for one in placed_devices(panel):
        feet = hole_offsets(one.part)
        yield from tightest(_foot(one, foot, holding.get(one.tag, [])) for foot in feet)


def _foot(one: Placed, foot: Point, holes: list[tuple[str, Hole]]) -> Reading:
    x, y = one.body.left + foot.x, one.body.bottom + foot.y
    where = f"the foot of {one.tag} at ({x:.1f}, {y:.1f})"
    if not holes:
        return breaks(
            one.tag,
            message=f"{where} has no hole",
            cure=f"Run plan, or add a hole at ({x:.1f}, {y:.1f}) that holds {one.tag}",
            source=SOURCE,
            place=one.body,
        )
    off, tag = min((math.hypot(hole.x - x, hole.y - y), tag) for tag, hole in holes)
    return at_most(
        one.tag,
        what=f"from {where} to hole {tag}",
        measured=off,
        limit=NEAR,
        cure=f"Put a hole for it at ({x:.1f}, {y:.1f}), or move {one.tag} onto its drilled holes",
        place=one.body,
    )
