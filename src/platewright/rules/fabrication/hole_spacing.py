"""Two holes keep their distance from each other."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import GEOMETRY, Source, Standing
from platewright.model.finding import Reading
from platewright.model.layout import Hole, HoleState
from platewright.model.panel import Panel
from platewright.rules.distances import nearest_pairs
from platewright.rules.drilled import hole_box, hole_name, holes_of, moved
from platewright.rules.judge import Limit, at_least, holds
from platewright.rules.registry import rule
from platewright.tables.hole_spacing import hole_spacing
from platewright.tables.reader import source_of

SOURCE: Final = Source("table hole_spacing", "centre to centre, web", Standing.PRACTICE)


@rule(
    id="fabrication.hole-spacing",
    title="Holes keep apart",
    why="A drill beside a hole runs into it, and the web between them breaks: three diameters "
    "apart, and a web no thinner than the plate.",
    source=SOURCE,
)
def check_hole_spacing(panel: Panel) -> Iterator[Reading]:
    """Measure between the centres of holes that lie near each other."""
    drilled = holes_of(panel)
    if len(drilled) < 2:
        return
    thickness = panel.job.settings.plate.thickness
    widest = max(hole.drill for _, hole in drilled)
    reach = hole_spacing().apart(widest, widest, thickness)
    near = sorted(nearest_pairs([hole.centre for _, hole in drilled], reach))
    told = [
        reading
        for i, j, distance in near
        for reading in _judge(drilled[i], drilled[j], distance, thickness)
    ]
    yield from told
    if not told:
        yield holds("", message=f"{len(drilled)} holes, all far enough from each other")


def _judge(
    one: tuple[str, Hole], other: tuple[str, Hole], distance: float, thickness: float
) -> Iterator[Reading]:
    row = hole_spacing()
    halves = (one[1].drill + other[1].drill) / 2
    apart = row.apart(one[1].drill, other[1].drill, thickness)
    if distance > apart:
        return
    limit = Limit(value=apart, source=source_of(row))
    if distance < halves:
        limit = Limit(value=halves, source=GEOMETRY)
    free = one if other[1].state is HoleState.DRILLED else other  # the one that can still move
    yield at_least(
        other[0],
        what=f"{hole_name(*one)} and {hole_name(*other)}, centre to centre",
        measured=distance,
        limit=limit,
        cure=f"{moved(free[1], apart - distance, 'away')}, or use one hole for both",
        place=hole_box(one[1]).union(hole_box(other[1])),
    )
