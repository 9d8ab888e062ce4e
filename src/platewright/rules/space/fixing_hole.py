"""The holes by which the plate is fixed stay free for nut, washer and socket."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.geometry import Box, Point
from platewright.model.job import FixingHole
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_least, holds
from platewright.rules.placed import everything
from platewright.rules.registry import rule
from platewright.rules.wording import enough, place_of, tightest

SOURCE: Final = Source("job.toml", "plate.fixing_holes.keep_out", Standing.JOB)


@rule(
    id="space.fixing-hole",
    title="The plate's fixing holes stay free",
    why="A device, a rail or the end of a duct over a fixing hole keeps the plate from being "
    "screwed into the enclosure, and that is found out on the day of assembly.",
    source=SOURCE,
)
def check_fixing_hole(panel: Panel) -> Iterator[Reading]:
    """Measure from each fixing hole to everything near it."""
    holes = panel.job.settings.plate.fixing_holes
    things = tuple(everything(panel)) if holes else ()
    for number, hole in enumerate(holes, start=1):
        name = f"fixing hole {number}"
        if not things:
            yield holds(name, message="nothing stands near it", place=_ring(hole))
            continue
        near = [thing for thing in things if thing[1].distance_to(hole.centre) < hole.keep_out / 2]
        nearest = min(things, key=lambda thing: (thing[1].distance_to(hole.centre), thing[0]))
        yield from tightest(
            _reading(name, hole, tag, box.distance_to(hole.centre))
            for tag, box in near or [nearest]
        )


def _reading(name: str, hole: FixingHole, tag: str, distance: float) -> Reading:
    radius = hole.keep_out / 2
    centre: Point = hole.centre
    return at_least(
        tag if distance < radius else name,
        what=f"from the centre of {name} ({place_of(centre.x, centre.y, None)}) to {tag}",
        measured=distance,
        limit=Limit(value=radius, source=SOURCE),
        cure=f"Move or shorten {tag} by {enough(radius - distance)} away from the hole",
        place=_ring(hole),
    )


def _ring(hole: FixingHole) -> Box:
    radius = hole.keep_out / 2
    return Box(hole.x - radius, hole.y - radius, hole.x + radius, hole.y + radius)
