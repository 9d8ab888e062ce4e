"""Every device of the plate must have a place on it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import breaks, holds
from platewright.rules.registry import rule

SOURCE: Final = Source("devices.csv", "place = plate", Standing.JOB)


@rule(
    id="space.unplaced",
    title="Every device has its place",
    why="A device left out of the layout has no room, no holes and no wires on any sheet, and is "
    "missed when the plate is full.",
    source=SOURCE,
)
def check_unplaced(panel: Panel) -> Iterator[Reading]:
    """Compare the device list with the layout, both ways."""
    wanted = {device.tag for device in panel.job.on_plate}
    missing, strays = wanted - set(panel.layout.devices), set(panel.layout.devices) - wanted
    if len(missing) > 1 and missing == wanted:
        yield breaks(
            "",
            message=f"none of the {len(wanted)} devices of the plate has a place",
            cure="Run plan, or write their places into layout.toml",
            source=SOURCE,
        )
        missing = set()
    is_whole = not missing and not strays and bool(set(panel.layout.devices))
    for tag in sorted(missing):
        yield breaks(
            tag,
            message=f"{tag} has no place in the layout",
            cure=f"Run plan again, place {tag} by hand in layout.toml, or move it to the door",
            source=SOURCE,
        )
    for tag in sorted(strays):
        is_door = panel.job.is_in_door(tag)
        yield breaks(
            tag,
            message=f"{tag} stands in the layout but "
            + ("belongs in the door" if is_door else "is not in the device list"),
            cure=f"Take {tag} out of layout.toml, or list it in devices.csv with place plate",
            source=SOURCE,
        )
    if is_whole:
        yield holds("", message=f"all {len(wanted)} devices of the plate have a place")
