"""A plate thickness outside what is usual is more likely a slip of the pen."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, between
from platewright.rules.registry import rule

SOURCE: Final = Source("mounting plates", "16 gauge to 4 mm", Standing.PRACTICE)
THINNEST: Final[Mm] = 1.5  # 16 gauge is 1.519
THICKEST: Final[Mm] = 4.0
USUAL: Final = (Limit(value=THINNEST, source=SOURCE), Limit(value=THICKEST, source=SOURCE))


@rule(
    id="data.plate-thickness",
    title="The plate's thickness is usual",
    why="Threads, drills and the plate's stiffness follow from its thickness. Gauge numbers and "
    "inches read as millimetres give plates that nobody sells.",
    source=SOURCE,
)
def check_plate_thickness(panel: Panel) -> Iterator[Reading]:
    """Compare the thickness with the usual range."""
    plate = panel.job.settings.plate
    yield between(
        "plate",
        what="thickness of the plate",
        measured=plate.thickness,
        limits=USUAL,
        cure="Measure the plate and correct plate.thickness in job.toml",
        place=plate.box,
    )
