"""A hole keeps its distance from the plate's edge."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.drilled import edge_distance, hole_box, hole_name, holes_of, moved
from platewright.rules.judge import Limit, at_least, job_limit
from platewright.rules.registry import rule
from platewright.rules.wording import tightest
from platewright.tables.hole_spacing import hole_spacing
from platewright.tables.reader import source_of

SOURCE: Final = Source("table hole_spacing", "centre to edge", Standing.PRACTICE)


@rule(
    id="fabrication.hole-edge",
    title="Holes keep off the edge",
    why="The strip between a hole and the edge tears out under load and bulges under the drill.",
    source=SOURCE,
)
def check_hole_edge(panel: Panel) -> Iterator[Reading]:
    """Measure from each hole's centre to the nearest edge; limit twice its diameter."""
    plate, stated = panel.job.settings.plate.box, panel.job.settings.limits.hole_edge
    row = hole_spacing()
    own_source = source_of(row)
    readings = []
    for tag, hole in holes_of(panel):
        own = Limit(value=row.edge * hole.drill, source=own_source)
        limit = job_limit("limits.hole_edge", stated=stated, own=own)
        distance = edge_distance(hole, plate)
        readings.append(
            at_least(
                tag,
                what=f"{hole_name(tag, hole)}, centre to the nearest edge of the plate",
                measured=distance,
                limit=limit,
                cure=moved(hole, limit.value - distance, "inward"),
                place=hole_box(hole),
            )
        )
    yield from tightest(readings)
