"""Values marked typical stand in for the data sheet until it is there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.model.part import Part
from platewright.rules.registry import rule
from platewright.rules.stated import Datum, told_by_device

SOURCE: Final = Source("assumption", "typical values of the trade", Standing.PRACTICE)
MARK: Final = "typical"
VALUES: Final = Datum(
    "Own values",
    "typical values of the trade were used",
    "Put the values of the data sheet in parts.csv and name it in the column source",
    SOURCE,
)


@rule(
    id="data.typical",
    title="Values come from the data sheet",
    why="Typical sizes do to plan before the data sheets are there. Drilling to them is a gamble: "
    "the device that comes has its own size, holes and heat.",
    source=SOURCE,
)
def check_typical(panel: Panel) -> Iterator[Reading]:
    """Name every device whose part's source says typical."""
    yield from told_by_device(panel, panel.job.devices.values(), VALUES, _typical)


def _typical(part: Part) -> str:
    return "own values" if MARK in part.source.lower() else ""
