"""A rail-mounted device without a rail centre leaves its rail open."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.model.part import Mount, Part
from platewright.rules.registry import rule
from platewright.rules.stated import Datum, told_by_device

SOURCE: Final = Source("parts.csv", "rail_center", Standing.JOB)
CENTRE: Final = Datum(
    "Rail centre",
    "where its rail must run is not known",
    "Measure from the lower edge of the body to the middle of the rail and state rail_center_mm",
)


@rule(
    id="data.rail-center",
    title="Rail centre is stated",
    why="The rail's height on the plate follows from where the foot sits on the body.",
    source=SOURCE,
)
def check_rail_center_data(panel: Panel) -> Iterator[Reading]:
    """Look at every device it matters for."""
    asked = (
        device for device in panel.job.on_plate if panel.job.parts[device.part].mount is Mount.RAIL
    )
    yield from told_by_device(panel, asked, CENTRE, _blank)


def _blank(part: Part) -> str:
    return "rail_center" if part.rail_center is None else ""
