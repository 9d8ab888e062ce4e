"""A device without a heat value leaves the enclosure's temperature open."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.model.part import Part
from platewright.rules.registry import rule
from platewright.rules.stated import Datum, told_by_device

SOURCE: Final = Source("parts.csv", "heat", Standing.JOB)
HEAT: Final = Datum(
    "Heat",
    "the air in the enclosure is told without it",
    "Take the loss at rated load from the data sheet and state heat_w in parts.csv (0: none)",
)


@rule(
    id="data.heat",
    title="Heat is stated",
    why="The air in the enclosure follows from the sum of all losses. One that is missing makes the sum too small: blank is not zero.",
    source=SOURCE,
)
def check_heat_data(panel: Panel) -> Iterator[Reading]:
    """Look at every device it matters for."""
    yield from told_by_device(panel, panel.job.devices.values(), HEAT, _blank)


def _blank(part: Part) -> str:
    return "heat" if part.heat is None else ""
