"""The inside of a duct that is not stated was worked out from usual walls."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import breaks, holds
from platewright.rules.registry import rule

SOURCE: Final = Source("assumption", "usual walls of slotted duct", Standing.PRACTICE)


@rule(
    id="data.duct-inside",
    title="The inside of ducts is stated",
    why="Walls, base and cover lip take a part of the outside size. Without the maker's inside "
    "area the fill stands on usual walls.",
    source=SOURCE,
)
def check_duct_inside(panel: Panel) -> Iterator[Reading]:
    """Name every duct whose inside area was assumed, and what was counted."""
    loads = sorted(panel.routes.loads.items())
    assumed = [(tag, load) for tag, load in loads if load.assumed]
    for tag, load in assumed:
        duct = panel.layout.ducts.get(tag)
        yield breaks(
            tag,
            message=f"duct {tag}: inside area not stated; assumed {load.inside:.0f} mm²",
            cure="State inside_area_mm2 of this duct under stock.ducts in job.toml",
            source=SOURCE,
            place=None if duct is None else duct.box,
        )
    if loads and not assumed:
        yield holds("", message=f"inside area stated for all {len(loads)} ducts with wires")
