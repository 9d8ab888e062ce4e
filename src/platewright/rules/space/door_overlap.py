"""Two door devices cannot hang in one place."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import GEOMETRY
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.distances import overlaps_within
from platewright.rules.judge import Limit, at_most, holds
from platewright.rules.placed import door_devices
from platewright.rules.registry import rule
from platewright.rules.wording import common, way_out

TOUCHING: Final = Limit(value=0.0, source=GEOMETRY)


@rule(
    id="space.door-overlap",
    title="Door devices do not overlap",
    why="Cut-outs are sawn into a painted door once. Two that overlap, by a slip in a list of "
    "places, cannot be filled again.",
    source=GEOMETRY,
)
def check_door_overlap(panel: Panel) -> Iterator[Reading]:
    """Measure how far the bodies of door devices, covers on, reach into each other."""
    doors = door_devices(panel)
    met = list(overlaps_within([door.envelope for door in doors]))
    for i, j in met:
        one, other = doors[i], doors[j]
        yield at_most(
            one.tag,
            what=f"{one.tag} reaches into {other.tag} of the door by",
            measured=min(one.envelope.overlap(other.envelope)),
            limit=TOUCHING,
            cure=f"Move {other.tag} {way_out(other.envelope, one.envelope)} "
            "(door_x_mm, door_y_mm in devices.csv)",
            place=common(one.envelope, other.envelope),
        )
    if doors and not met:
        yield holds("", message=f"{len(doors)} door devices, none reaches into another")
