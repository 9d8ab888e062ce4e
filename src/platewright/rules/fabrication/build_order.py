"""Everything can be put on the plate in some order, with tools that exist."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.fabricate.steps import build_order
from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import breaks, holds
from platewright.rules.registry import rule

SOURCE: Final = Source("shop practice", "room of a screwdriver", Standing.PRACTICE)


@rule(
    id="fabrication.build-order",
    title="There is an order to build it in",
    why="A screw is tightened before what would bar the screwdriver stands there. Two things that "
    "bar each other's screws can't both be mounted.",
    source=SOURCE,
)
def check_build_order(panel: Panel) -> Iterator[Reading]:
    """Look for things that wait for each other."""
    if not panel.layout.holes:
        return
    order = build_order(panel.job, panel.layout, ())
    if not order.cycle:
        yield holds("", message=f"{len(order.steps)} steps, each possible when its turn comes")
        return
    yield breaks(
        "",
        message="no order to mount everything in: " + "; ".join(order.cycle),
        cure="Move one of these things away from the other's screws",
        source=SOURCE,
    )
