"""Above a device that must be lifted off its rail there must be room to lift it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.geometry import Box
from platewright.model.panel import Panel
from platewright.model.part import Mount
from platewright.rules.distances import free_distances
from platewright.rules.judge import Limit, at_least, holds
from platewright.rules.placed import Placed, excused, placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import enough

SOURCE: Final = Source("parts.csv", "snap_travel", Standing.JOB)


@rule(
    id="space.snap-room",
    title="Room to hook devices on and off",
    why="The foot unhooks only when the device is lifted. With a duct or a neighbour right above, "
    "a dead device can be taken out only with half the row.",
    source=SOURCE,
)
def check_snap_room(panel: Panel) -> Iterator[Reading]:
    """Measure from the top of each body to the nearest duct or envelope above it."""
    placed = placed_devices(panel)
    ducts = sorted(panel.layout.ducts.items())
    things = [(one.tag, one.envelope) for one in placed]
    things += [(tag, duct.box) for tag, duct in ducts]
    above = free_distances([one.body for one in placed], [box for _, box in things])["top"]
    for i, j in excused(placed):
        above[i, j] = np.inf
    for i, one in enumerate(placed):
        travel = one.part.snap_travel or 0.0
        if one.part.mount is not Mount.RAIL or travel <= 0:
            continue
        j = int(np.argmin(above[i]))
        if np.isfinite(above[i, j]):
            yield _reading(one, travel, things[j][0], float(above[i, j]))
        else:
            yield holds(one.tag, message="nothing stands above it", place=one.body)


def _reading(one: Placed, travel: float, tag: str, distance: float) -> Reading:
    body = one.body
    return at_least(
        one.tag,
        what=f"room above {one.tag} up to {tag}",
        measured=distance,
        limit=Limit(value=travel, source=SOURCE),
        cure=f"Move {one.tag} {enough(travel - distance)} down, or {tag} as much up",
        place=Box(body.left, body.top, body.right, body.top + travel),
    )
