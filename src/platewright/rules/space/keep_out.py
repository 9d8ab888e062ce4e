"""Regions that the job keeps free must be free of everything."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.geometry import Box
from platewright.model.layout import Hole
from platewright.model.panel import Panel
from platewright.rules.drilled import holes_of
from platewright.rules.judge import Limit, at_most, holds
from platewright.rules.placed import everything
from platewright.rules.registry import rule
from platewright.rules.wording import common, place_of, way_out

SOURCE: Final = Source("job.toml", "plate.keep_outs", Standing.JOB)
TOUCHING: Final = Limit(value=0.0, source=SOURCE)


@rule(
    id="space.keep-out",
    title="Regions kept free are free",
    why="Something behind the plate, an opening or a stiffener needs the region: what stands or is "
    "drilled there is in its way.",
    source=SOURCE,
)
def check_keep_out(panel: Panel) -> Iterator[Reading]:
    """Measure how far envelopes, ducts, rails and holes reach into each region."""
    regions = panel.job.settings.plate.keep_outs
    things = [*everything(panel), *_holes(panel)] if regions else []
    for region in regions:
        name = f"region {place_of(region.x, region.y, None)}" + (
            f" ({region.reason})" if region.reason else ""
        )
        inside = [(tag, box) for tag, box in things if box.overlaps(region.box)]
        for tag, box in inside:
            yield at_most(
                tag,
                what=f"{tag} reaches into the {name} by",
                measured=min(box.overlap(region.box)),
                limit=TOUCHING,
                cure=f"Move {tag} {way_out(box, region.box)}",
                place=common(box, region.box),
            )
        if not inside:
            yield holds(name, message="nothing stands in it", place=region.box)


def _holes(panel: Panel) -> Iterator[tuple[str, Box]]:
    return ((f"hole {tag}", _hole_box(hole)) for tag, hole in holes_of(panel))


def _hole_box(hole: Hole) -> Box:
    half = hole.drill / 2
    return Box(hole.x - half, hole.y - half, hole.x + half, hole.y + half)
