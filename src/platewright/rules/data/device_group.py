"""A device without a voltage group cannot be kept apart from others."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import holds, undecided
from platewright.rules.placed import place_of
from platewright.rules.registry import rule

SOURCE: Final = Source("devices.csv", "group", Standing.JOB)


@rule(
    id="data.device-group",
    title="Devices name their voltage group",
    why="The job has voltage groups. A device that names none is put anywhere, and its distance "
    "to the others is not checked.",
    source=SOURCE,
)
def check_device_group(panel: Panel) -> Iterator[Reading]:
    """Name every device on the plate with a blank group, where the job has groups."""
    if not panel.job.settings.groups:
        return
    devices = sorted(panel.job.on_plate, key=lambda device: device.tag)
    blank = [device for device in devices if not device.group]
    known = ", ".join(group.name for group in panel.job.settings.groups)
    for device in blank:
        yield undecided(
            device.tag,
            missing=f"{device.tag} names no voltage group",
            cure=f"State group in devices.csv: {known}",
            place=place_of(panel, device.tag),
        )
    if devices and not blank:
        yield holds("", message=f"voltage group stated for all {len(devices)} devices")
