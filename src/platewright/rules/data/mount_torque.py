"""A screw-mounted device without a mounting torque leaves the torque sheet blank."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.model.part import Mount, Part
from platewright.rules.registry import rule
from platewright.rules.stated import Datum, told_by_device

SOURCE: Final = Source("parts.csv", "mount_torque", Standing.JOB)
TORQUE: Final = Datum(
    "Mounting torque",
    "the torque sheet stays blank there",
    "Take it from the data sheet and state mount_torque_nm in parts.csv",
)


@rule(
    id="data.mount-torque",
    title="Mounting torque is stated",
    why="A screw too loose lets the device move, too tight strips a thin plate.",
    source=SOURCE,
)
def check_mount_torque_data(panel: Panel) -> Iterator[Reading]:
    """Look at every device it matters for."""
    asked = (
        device
        for device in panel.job.on_plate
        if panel.job.parts[device.part].mount is Mount.SCREWS
    )
    yield from told_by_device(panel, asked, TORQUE, _blank)


def _blank(part: Part) -> str:
    return "mount_torque" if part.mount_torque is None else ""
