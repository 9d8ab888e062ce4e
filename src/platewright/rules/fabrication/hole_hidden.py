"""A screw must be reachable: no other device and no duct over its hole."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.geometry import Box
from platewright.model.layout import Hole
from platewright.model.panel import Panel
from platewright.model.part import Mount
from platewright.rules.distances import inside
from platewright.rules.drilled import hole_box, hole_name, holes_of
from platewright.rules.judge import breaks, holds
from platewright.rules.placed import placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import enough

SOURCE: Final = Source("geometry", "no tool reaches through a device", Standing.GEOMETRY)


@rule(
    id="fabrication.hole-hidden",
    title="Screws can be reached",
    why="What lies under another device or a duct cannot be tightened or taken off without taking "
    "that off first. A rail's own screws under the devices on it are set before them.",
    source=SOURCE,
)
def check_hole_hidden(panel: Panel) -> Iterator[Reading]:
    """Look for bodies and ducts over holes that hold something else."""
    drilled = [(tag, hole) for tag, hole in holes_of(panel) if hole.holds]
    placed = placed_devices(panel)
    over = [(one.tag, one.body, one.part.mount is Mount.RAIL) for one in placed]
    over += [(tag, duct.box, False) for tag, duct in sorted(panel.layout.ducts.items())]
    hidden = 0
    for i, j in inside([hole.centre for _, hole in drilled], [box for _, box, _ in over]):
        (tag, hole), (cover, box, hangs_on_rail) = drilled[i], over[j]
        if hole.holds == cover or (hangs_on_rail and hole.holds in panel.layout.rails):
            continue
        hidden += 1
        yield _reading(tag, hole, cover, box)
    if drilled and not hidden:
        yield holds("", message=f"{len(drilled)} holes, none under another device or duct")


def _reading(tag: str, hole: Hole, cover: str, box: Box) -> Reading:
    depth = min(hole.x - box.left, box.right - hole.x, hole.y - box.bottom, box.top - hole.y)
    return breaks(
        tag,
        message=f"{hole_name(tag, hole)} lies {enough(depth)} under {cover}",
        cure=f"Move {cover} or {hole.holds} so that the screw lies free",
        source=SOURCE,
        place=hole_box(hole),
    )
