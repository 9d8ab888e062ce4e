"""Drilled holes that hold nothing any more are told."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.layout import HoleState
from platewright.model.panel import Panel
from platewright.rules.drilled import hole_box, hole_name, holes_of
from platewright.rules.judge import breaks, holds
from platewright.rules.registry import rule

SOURCE: Final = Source("shop practice", "left-over holes are closed", Standing.PRACTICE)


@rule(
    id="fabrication.drilled-left-over",
    title="Left-over holes are known",
    why="A hole cannot be moved. One that holds nothing after a change is closed with a plug or "
    "used again, and must not be taken for a new one.",
    source=SOURCE,
)
def check_drilled_left_over(panel: Panel) -> Iterator[Reading]:
    """Name every drilled hole that holds nothing."""
    drilled = [(tag, hole) for tag, hole in holes_of(panel) if hole.state is HoleState.DRILLED]
    left = [(tag, hole) for tag, hole in drilled if not hole.holds]
    for tag, hole in left:
        yield breaks(
            tag,
            message=f"{hole_name(tag, hole)}, {hole.size}, is drilled and holds nothing",
            cure="Close it with a plug, or let plan use it again",
            source=SOURCE,
            place=hole_box(hole),
        )
    if drilled and not left:
        yield holds("", message=f"{len(drilled)} drilled holes, each holds something")
