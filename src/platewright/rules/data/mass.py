"""A screw-mounted device without a mass leaves its screws open."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.model.part import Mount, Part
from platewright.rules.registry import rule
from platewright.rules.stated import Datum, told_by_device

SOURCE: Final = Source("parts.csv", "mass", Standing.JOB)
MASS: Final = Datum(
    "Mass",
    "screws and lifting are told without it",
    "Weigh the device or take its mass from the data sheet, and state mass_kg in parts.csv",
)


@rule(
    id="data.mass",
    title="Mass of screwed devices is stated",
    why="Heavy devices need more and thicker screws, a place low on the plate, and two persons to lift.",
    source=SOURCE,
)
def check_mass_data(panel: Panel) -> Iterator[Reading]:
    """Look at every device it matters for."""
    asked = (
        device
        for device in panel.job.on_plate
        if panel.job.parts[device.part].mount is Mount.SCREWS
    )
    yield from told_by_device(panel, asked, MASS, _blank)


def _blank(part: Part) -> str:
    return "mass" if part.mass is None else ""
