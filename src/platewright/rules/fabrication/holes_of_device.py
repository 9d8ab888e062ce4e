"""Each screw-mounted device finds its holes where its feet are."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from platewright.fabricate.slots import FOOT_OFF, OWN_OFF
from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.geometry import Point
from platewright.model.layout import Hole, HoleState
from platewright.model.panel import Panel, hole_offsets
from platewright.model.part import Part
from platewright.rules.judge import Limit, at_most, breaks
from platewright.rules.placed import Placed, placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import enough, place_of, tightest
from platewright.tables.threads import thread

SOURCE: Final = Source(
    "geometry", "a screw goes through foot and plate in one line", Standing.GEOMETRY
)
NEAR: Final = Limit(value=FOOT_OFF, source=SOURCE)


@rule(
    id="fabrication.holes-of-device",
    title="Devices find their holes",
    why="A hole that is missing or beside the foot is drilled later, with chips among the devices. "
    "A slot gives its length less the screw, half to each side, along one way.",
    source=SOURCE,
)
def check_holes_of_device(panel: Panel) -> Iterator[Reading]:
    """Measure from each foot to the nearest hole that holds the device, less the play of a slot."""
    holding: dict[str, list[tuple[str, Hole]]] = {}
    for tag, hole in sorted(panel.layout.holes.items()):
        holding.setdefault(hole.holds, []).append((tag, hole))
    for one in placed_devices(panel):
        yield from tightest(_best_way(one, holding.get(one.tag, [])))


def _best_way(one: Placed, holes: list[tuple[str, Hole]]) -> list[Reading]:
    """Return the readings of all feet, slots taken along the way that lets the screws in better."""
    play, feet = _slot_play(one.part), hole_offsets(one.part)
    ways = ((play, 0.0), (0.0, play)) if play else ((0.0, 0.0),)
    tried = [[_foot(one, foot, holes, way) for foot in feet] for way in ways]
    return min(tried, key=lambda readings: max((r.measured or 0.0 for r in readings), default=0.0))


def _slot_play(part: Part) -> Mm:
    """Return how far a screw may stand from the middle of the part's slots, along them."""
    screw = thread(part.screw) if part.screw else None
    if not part.is_slotted or part.slot_length is None or screw is None:
        return 0.0
    return max((part.slot_length - screw.major) / 2, 0.0)


def _cure(one: Placed, hole: Hole, off: Mm, at: tuple[Mm, Mm]) -> str:
    """Return what to do; beside a drilled hole no other can be drilled."""
    if hole.state is HoleState.DRILLED and off <= OWN_OFF:
        return (
            f"File the foot of {one.tag} there by {enough(off - FOOT_OFF)}, or move {one.tag} onto its "
            "drilled holes"
        )
    return f"Put a hole for it at ({place_of(*at)}), or move {one.tag} onto its drilled holes"


def _foot(one: Placed, foot: Point, holes: list[tuple[str, Hole]], play: tuple[Mm, Mm]) -> Reading:
    x, y = one.body.left + foot.x, one.body.bottom + foot.y
    where = f"the foot of {one.tag} at ({place_of(x, y)})"
    if not holes:
        return breaks(
            one.tag,
            message=f"{where} has no hole",
            cure=f"Run plan, or add a hole at ({place_of(x, y)}) that holds {one.tag}",
            source=SOURCE,
            place=one.body,
        )
    off, tag = min(
        (
            math.hypot(max(abs(hole.x - x) - play[0], 0.0), max(abs(hole.y - y) - play[1], 0.0)),
            tag,
        )
        for tag, hole in holes
    )
    return at_most(
        one.tag,
        what=f"from {where}{', beyond the play of its slot,' if any(play) else ''} to hole {tag}",
        measured=off,
        limit=NEAR,
        cure=_cure(one, dict(holes)[tag], off, (x, y)),
        place=one.body,
    )
