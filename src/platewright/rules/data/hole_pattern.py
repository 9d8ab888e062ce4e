"""A screw-mounted device without hole pattern or screw gets no holes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.model.part import Mount, Part
from platewright.rules.registry import rule
from platewright.rules.stated import Datum, told_by_device

SOURCE: Final = Source("parts.csv", "hole_pattern_width, hole_pattern_height, screw", Standing.JOB)
PATTERN: Final = Datum(
    "Hole pattern and screw",
    "its holes cannot be drilled from this plan",
    "Measure the feet, centre to centre, and state hole_pattern_…_mm and screw in parts.csv",
)


@rule(
    id="data.hole-pattern",
    title="Hole pattern and screw are stated",
    why="A screw-mounted device without its pattern and thread has no holes on the drill sheet.",
    source=SOURCE,
)
def check_hole_pattern_data(panel: Panel) -> Iterator[Reading]:
    """Look at every device it matters for."""
    asked = (
        device
        for device in panel.job.on_plate
        if panel.job.parts[device.part].mount is Mount.SCREWS
    )
    yield from told_by_device(panel, asked, PATTERN, _blank)


def _blank(part: Part) -> str:
    blank = [
        name
        for name in ("hole_pattern_width", "hole_pattern_height", "screw")
        if getattr(part, name) is None
    ]
    return ", ".join(blank)
