"""A rail ends free of what stands beside it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from platewright.fabricate.joints import end_names
from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.geometry import TOUCH, Box
from platewright.model.layout import Rail, Run
from platewright.model.panel import Panel
from platewright.model.part import Mount
from platewright.rules.distances import free_distances
from platewright.rules.judge import Limit, at_least
from platewright.rules.placed import OFF_AXIS, Placed, placed_devices, rail_box
from platewright.rules.registry import rule
from platewright.rules.wording import enough, tightest
from platewright.tables.fixings import fixing_limits
from platewright.tables.reader import source_of

SOURCE: Final = Source("table fixings", "play at a rail's end", Standing.PRACTICE)
ENDS: Final = {Run.ACROSS: ("left", "right"), Run.UPRIGHT: ("bottom", "top")}
WAYS: Final = {"left": "left", "right": "right", "bottom": "down", "top": "up"}


@rule(
    id="fabrication.rail-play",
    title="Rails have play at their ends",
    why="A saw cuts within about 1 mm. A rail cut for the whole room between two bodies does not go "
    "in between them when it comes out that much longer.",
    source=SOURCE,
)
def check_rail_play(panel: Panel) -> Iterator[Reading]:
    """Measure from each rail's ends to the nearest body that is not on it, duct or other rail."""
    row = fixing_limits("rail")
    if row.play is None:
        return
    limit = Limit(value=row.play, source=source_of(row))
    for tag, rail in sorted(panel.layout.rails.items()):
        yield from tightest(_ends(panel, tag, rail, limit))


def _ends(panel: Panel, tag: str, rail: Rail, limit: Limit) -> Iterator[Reading]:
    """Yield a reading for each end that has something beyond it (under it: told by rail-clash)."""
    own, others = rail_box(rail), list(_others(panel, tag, rail))
    if not others:
        return
    found = free_distances([own], [box for _, box in others])
    for side, end in zip(ENDS[rail.run], end_names(rail.run), strict=True):
        apart = found[side][0]
        nearest = int(np.argmin(apart))
        free = float(apart[nearest])
        if not np.isfinite(free) or free < -TOUCH:
            continue
        other, box = others[nearest]
        free = max(free, 0.0)
        yield at_least(
            tag,
            what=f"play from the {end} end of rail {tag} to {other}",
            measured=free,
            limit=limit,
            cure=f"Shorten rail {tag} at its {end} end by {enough(limit.value - free)}, or "
            f"move {other} {enough(limit.value - free)} {WAYS[side]}",
            place=_gap(own, box, side),
        )


def _others(panel: Panel, tag: str, rail: Rail) -> Iterator[tuple[str, Box]]:
    """Yield what may stand beside a rail's ends; a body level with it sits over the rail's end."""
    for one in placed_devices(panel):
        if not _is_level(rail, one):
            yield one.tag, one.body
    yield from ((name, duct.box) for name, duct in sorted(panel.layout.ducts.items()))
    for name, other in sorted(panel.layout.rails.items()):
        if name != tag:
            yield name, rail_box(other)


def _is_level(rail: Rail, one: Placed) -> bool:
    centre = one.part.rail_center
    if one.part.mount is not Mount.RAIL or centre is None or rail.run is not Run.ACROSS:
        return False
    return abs(rail.y - one.body.bottom - centre) <= OFF_AXIS


def _gap(own: Box, other: Box, side: str) -> Box:
    """Return the room between a rail's end and what stands beyond it."""
    low, high = max(own.bottom, other.bottom), min(own.top, other.top)
    left, right = max(own.left, other.left), min(own.right, other.right)
    if side == "left":
        return Box(other.right, low, own.left, high)
    if side == "right":
        return Box(own.right, low, other.left, high)
    if side == "bottom":
        return Box(left, other.top, right, own.bottom)
    return Box(left, own.top, right, other.bottom)
