"""No hole in the room kept for the plate's own fixing holes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.job import FixingHole
from platewright.model.layout import Hole
from platewright.model.panel import Panel
from platewright.rules.drilled import hole_box, hole_name, holes_of, moved
from platewright.rules.judge import Limit, at_least, holds
from platewright.rules.registry import rule

SOURCE: Final = Source("job.toml", "plate.fixing_holes.keep_out", Standing.JOB)


@rule(
    id="fabrication.hole-on-fixing-hole",
    title="No hole under the plate's own screws",
    why="Nut and washer of the plate would sit on a screw head, or the drill breaks into the "
    "fixing hole.",
    source=SOURCE,
)
def check_hole_on_fixing_hole(panel: Panel) -> Iterator[Reading]:
    """Measure from each fixing hole's centre to the rim of each hole near it."""
    drilled = holes_of(panel)
    for number, fixing in enumerate(panel.job.settings.plate.fixing_holes, start=1):
        limit = Limit(value=fixing.keep_out / 2, source=SOURCE)
        told = [
            _reading(number, limit, (tag, hole), rim)
            for tag, hole in drilled
            if (rim := _rim(fixing, hole)) <= limit.value
        ]
        yield from told
        if not told:
            yield holds(f"fixing hole {number}", message="no hole lies in its room")


def _rim(fixing: FixingHole, hole: Hole) -> Mm:
    """Return the distance from the fixing hole's centre to the rim of a hole."""
    return math.hypot(hole.x - fixing.x, hole.y - fixing.y) - hole.drill / 2


def _reading(number: int, limit: Limit, drilled: tuple[str, Hole], rim: Mm) -> Reading:
    tag, hole = drilled
    return at_least(
        tag,
        what=f"{hole_name(tag, hole)}, rim to the centre of fixing hole {number}",
        measured=rim,
        limit=limit,
        cure=moved(hole, limit.value - rim, "away from it"),
        place=hole_box(hole),
    )
