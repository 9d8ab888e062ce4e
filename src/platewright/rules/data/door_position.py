"""A door device without a position cannot be checked against the plate behind it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import holds, undecided
from platewright.rules.registry import rule

SOURCE: Final = Source("devices.csv", "door_x, door_y", Standing.JOB)


@rule(
    id="data.door-position",
    title="Door devices have a position",
    why="What hangs in the door reaches towards the plate. Without its place nothing can be said "
    "about what stands behind it.",
    source=SOURCE,
)
def check_door_position(panel: Panel) -> Iterator[Reading]:
    """Name every door device with a blank door_x or door_y."""
    devices = sorted(panel.job.on_door, key=lambda device: device.tag)
    blank = [one for one in devices if one.door_x is None or one.door_y is None]
    for device in blank:
        yield undecided(
            device.tag,
            missing=f"the place of {device.tag} in the door is not stated",
            cure="State door_x_mm and door_y_mm in devices.csv: its lower left corner, in plate "
            "coordinates seen from the front",
        )
    if devices and not blank:
        yield holds("", message=f"position stated for all {len(devices)} door devices")
