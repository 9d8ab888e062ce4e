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
from platewright.rules.placed import Placed, are_partners, placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import mm

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
    lifted = [one for one in placed if one.part.mount is Mount.RAIL and one.part.snap_travel]
    ducts = sorted(panel.layout.ducts.items())
    above = free_distances(
        [one.body for one in lifted],
        [one.envelope for one in placed] + [duct.box for _, duct in ducts],
    )["top"]
    for i, one in enumerate(lifted):
        row = above[i]
        for j, other in enumerate(placed):
            if other is one or are_partners(one.device, other.device):
                row[j] = np.inf
        j = int(np.argmin(row))
        travel = one.part.snap_travel or 0.0
        if not np.isfinite(row[j]):
            yield holds(one.tag, message="nothing stands above it", place=one.body)
            continue
        tag = placed[j].tag if j < len(placed) else ducts[j - len(placed)][0]
        yield _reading(one, travel, tag, float(row[j]))


def _reading(one: Placed, travel: float, tag: str, distance: float) -> Reading:
    body = one.body
    return at_least(
        one.tag,
        what=f"room above {one.tag} up to {tag}",
        measured=distance,
        limit=Limit(value=travel, source=SOURCE),
        cure=f"Move {one.tag} {mm(travel - distance)} down, or {tag} as much up",
        place=Box(body.left, body.top, body.right, body.top + travel),
    )
