"""One panel at one moment: the job, where things stand, and what follows from it.

Rules and sheets read a panel; ``app`` alone puts it together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from platewright.foundation.units import Mm
from platewright.model.fastening import Fastening
from platewright.model.geometry import Box, Point
from platewright.model.job import Job
from platewright.model.layout import Layout, Placement
from platewright.model.need import ClearSpace, WiringSpace
from platewright.model.part import Part
from platewright.model.pieces import CutPlan
from platewright.model.routes import Routes


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """The job with its layout, and what the stages worked out from both."""

    job: Job
    layout: Layout
    clear: Mapping[str, ClearSpace]
    wiring: Mapping[str, WiringSpace]
    outer_diameters: Mapping[str, Mm]  # wire number -> outside diameter
    routes: Routes
    cuts: CutPlan
    fastenings: Mapping[str, Fastening] = field(default_factory=dict)  # by what is held


def body_box(part: Part, at: Placement) -> Box:
    """Return the footprint of the body, covers off."""
    return Box(at.x, at.y, at.x + part.width, at.y + part.height)


def envelope_box(part: Part, at: Placement) -> Box:
    """Return the footprint with covers on; a cover that is not stated counts as none."""
    return body_box(part, at).grown(
        part.cover_left or 0.0,
        part.cover_bottom or 0.0,
        part.cover_right or 0.0,
        part.cover_top or 0.0,
    )


def hole_offsets(part: Part) -> tuple[Point, ...]:
    """Return where a screw-mounted part wants its holes, from the body's lower left corner.

    Four corners of the pattern, two when one side of it is 0, one when both are. Empty when
    the part hangs on a rail or its pattern is not stated.
    """
    across, upright = part.hole_pattern_width, part.hole_pattern_height
    if part.mount != "screws" or across is None or upright is None:
        return ()
    x0 = part.width / 2 + part.hole_offset_x
    y0 = part.height / 2 + part.hole_offset_y
    xs = sorted({x0 - across / 2, x0 + across / 2})
    ys = sorted({y0 - upright / 2, y0 + upright / 2})
    return tuple(Point(x, y) for y in ys for x in xs)


def terminal_offset(part: Part, terminal: str) -> tuple[str, Point] | None:
    """Return the side (top, bottom, left, right) and place of a terminal on the body.

    Terminals of one side stand evenly spread along it, in the order listed. ``None``: the part
    has no such terminal.
    """
    for side, names in (
        ("top", part.terminals_top),
        ("bottom", part.terminals_bottom),
        ("left", part.terminals_left),
        ("right", part.terminals_right),
    ):
        if terminal in names:
            share = (names.index(terminal) + 0.5) / len(names)
            if side in ("top", "bottom"):
                return side, Point(share * part.width, part.height if side == "top" else 0.0)
            return side, Point(part.width if side == "right" else 0.0, (1 - share) * part.height)
    return None
