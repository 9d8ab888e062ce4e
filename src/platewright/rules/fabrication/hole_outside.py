"""Every hole lies wholly on the plate."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.drilled import edge_distance, hole_box, hole_name, holes_of, moved
from platewright.rules.judge import Limit, at_least
from platewright.rules.registry import rule
from platewright.rules.wording import tightest

SOURCE: Final = Source("geometry", "a hole needs metal all round", Standing.GEOMETRY)
WHOLE: Final = Limit(value=0.0, source=SOURCE)


@rule(
    id="fabrication.hole-outside",
    title="Holes are on the plate",
    why="Beyond the edge there is nothing to drill, and a hole that cuts the edge holds nothing.",
    source=SOURCE,
)
def check_hole_outside(panel: Panel) -> Iterator[Reading]:
    """Measure from each hole's rim to the nearest edge."""
    plate = panel.job.settings.plate.box
    yield from tightest(
        at_least(
            tag,
            what=f"{hole_name(tag, hole)}, rim to the nearest edge of the plate",
            measured=(rim := edge_distance(hole, plate) - hole.drill / 2),
            limit=WHOLE,
            cure=moved(hole, -rim, "inward"),
            place=hole_box(hole),
        )
        for tag, hole in holes_of(panel)
    )
