"""Devices must not touch the closed door."""

from __future__ import annotations

from collections.abc import Iterator

from platewright.foundation.sources import GEOMETRY
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.door import front_limit, front_of, unknown_rail
from platewright.rules.judge import at_most
from platewright.rules.placed import placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import enough


@rule(
    id="space.depth",
    title="Devices stand clear of the door",
    why="Depth is a third dimension: covers, plugs and a high rail add to the body. A door that "
    "does not close is found last.",
    source=GEOMETRY,
)
def check_depth(panel: Panel) -> Iterator[Reading]:
    """Measure from the plate's face to each front, covers on, and compare with the door."""
    limit = front_limit(panel, panel.job.settings.enclosure.door_inside)
    for one in placed_devices(panel):
        front = front_of(panel, one)
        if front is None:
            yield unknown_rail(one)
            continue
        yield at_most(
            one.tag,
            what=f"{one.tag} stands out of the plate, covers on,",
            measured=front,
            limit=limit,
            cure=f"Choose a part {enough(front - limit.value)} flatter or a flatter rail, or move it to "
            "a deeper enclosure or the door",
            place=one.envelope,
        )
