"""Door devices lie on the door."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.geometry import Box
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_most
from platewright.rules.registry import rule
from platewright.rules.wording import bare

SOURCE: Final = Source("geometry", "the door is as large as the enclosure", Standing.GEOMETRY)


@rule(
    id="space.door-edge",
    title="Door devices lie on the door",
    why="A device placed off the door, by a slip in its place, is checked against nothing.",
    source=SOURCE,
)
def check_door_edge(panel: Panel) -> Iterator[Reading]:
    """Measure how far each door device reaches past the enclosure, plate in its middle."""
    settings = panel.job.settings
    plate, enclosure = settings.plate, settings.enclosure
    aside = (enclosure.width - plate.width) / 2
    above = (enclosure.height - plate.height) / 2
    door = plate.box.grown(aside, above, aside, above)
    for device in sorted(panel.job.on_door, key=lambda d: d.tag):
        if device.door_x is None or device.door_y is None:
            continue
        part = panel.job.part_of(device.tag)
        x, y = device.door_x, device.door_y
        box = Box(x, y, x + part.width, y + part.height)
        past = max(
            door.left - box.left,
            box.right - door.right,
            door.bottom - box.bottom,
            box.top - door.top,
        )
        yield at_most(
            device.tag,
            what=f"{device.tag} reaches past the door by",
            measured=max(0.0, past),
            limit=Limit(value=0.0, source=SOURCE),
            cure=f"Correct door_x_mm, door_y_mm of {device.tag} in devices.csv: its lower left "
            f"corner; the door spans x {bare(door.left, None)} to {bare(door.right, None)}, "
            f"y {bare(door.bottom, None)} to {bare(door.top, None)}",
            place=box,
        )
