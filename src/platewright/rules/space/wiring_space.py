"""Between the terminals and the duct there must be room for wires and fingers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.geometry import Box
from platewright.model.need import Need
from platewright.model.panel import Panel
from platewright.rules.distances import Floats, free_distances
from platewright.rules.judge import Limit, at_least, holds
from platewright.rules.placed import Placed, excused, placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import enough, in_brackets

SOURCE: Final = Source("wiring space", "from terminals to the duct's wall", Standing.PRACTICE)
AWAY: Final = {"top": "down", "bottom": "up"}


@rule(
    id="space.wiring-space",
    title="Room to wire",
    why="The thickest wire of a device must bend into the duct, and a hand must reach its screw. "
    "Counted from the body, where the terminals are, to the wall of the duct.",
    source=SOURCE,
)
def check_wiring_space(panel: Panel) -> Iterator[Reading]:
    """Measure from each wired side of a body to the nearest duct or device that faces it."""
    placed = placed_devices(panel)
    ducts = sorted(panel.layout.ducts.items())
    things = [(one.tag, one.envelope) for one in placed]
    things += [(tag, duct.box) for tag, duct in ducts]
    free = free_distances([one.body for one in placed], [box for _, box in things])
    for i, j in excused(placed):
        free["top"][i, j] = free["bottom"][i, j] = np.inf
    for i, one in enumerate(placed):
        needs = panel.wiring.get(one.tag)
        for side in () if needs is None else ("top", "bottom"):
            need = getattr(needs, side)
            if need is not None:
                yield _judge(one, side, need, (free[side][i], things))


def _judge(
    one: Placed, side: str, need: Need, facing: tuple[Floats, Sequence[tuple[str, Box]]]
) -> Reading:
    row, things = facing
    j = int(np.argmin(row))
    if not np.isfinite(row[j]):
        return holds(
            one.tag,
            message=f"nothing faces its {side} side, where wires leave",
            place=one.body,
            source=need.source,
        )
    tag, distance = things[j][0], float(row[j])
    short = enough(need.room - distance)
    return at_least(
        one.tag,
        what=f"{side} of {one.tag}, from the body to {tag}{in_brackets(need)}:",
        measured=distance,
        limit=Limit(value=need.room, source=need.source),
        cure=f"Move {one.tag} {short} {AWAY[side]}, or {tag} {short} the other way",
        place=_strip(one.body, side, need.room),
    )


def _strip(box: Box, side: str, room: float) -> Box:
    if side == "top":
        return Box(box.left, box.top, box.right, box.top + room)
    return Box(box.left, box.bottom - room, box.right, box.bottom)
