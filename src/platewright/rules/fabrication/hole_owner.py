"""A hole still to be drilled holds something that is there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.tag_order import in_ranges
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.drilled import hole_box, hole_name, holes_of
from platewright.rules.judge import breaks, holds
from platewright.rules.registry import rule

SOURCE: Final = Source("layout.toml", "holes.holds", Standing.JOB)


@rule(
    id="fabrication.hole-owner",
    title="Every new hole holds something",
    why="A hole without an owner is work for nothing, and it weakens the plate.",
    source=SOURCE,
)
def check_hole_owner(panel: Panel) -> Iterator[Reading]:
    """Look up what each hole is to hold."""
    layout = panel.layout
    owners = {*layout.devices, *layout.ducts, *layout.rails}
    drilled = holes_of(panel)
    lost = [
        (tag, hole)
        for tag, hole in drilled
        if hole.holds not in owners and (hole.holds or hole.is_to_drill)
    ]
    for tag, hole in lost:
        yield breaks(
            tag,
            message=f"{hole_name(tag, hole)} holds nothing that is in the layout",
            cure="Run plan again, name what it holds in layout.toml, or take it out",
            source=SOURCE,
            place=hole_box(hole),
        )
    if drilled and not lost:
        marks = [tag for tag, hole in layout.holes.items() if hole.is_idle_mark]
        told = f". Marks to wipe off, not holes: {in_ranges(marks)}" if marks else ""
        yield holds("", message=f"{len(drilled)} holes, each has its owner or is left over{told}")
