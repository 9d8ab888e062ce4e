"""What a device needs empty around it must be empty."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.geometry import Box
from platewright.model.need import ClearSpace, Need
from platewright.model.panel import Panel
from platewright.rules.distances import SIDES, Floats, free_distances
from platewright.rules.judge import Limit, at_least, holds, undecided
from platewright.rules.placed import Placed, excused, placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import enough, in_brackets, length_of, tightest

SOURCE: Final = Source("device data", "clear space of the part, else shop practice", Standing.JOB)
OPPOSITE: Final = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
SAID: Final = {"left": "left", "right": "right", "top": "above", "bottom": "below"}
AWAY: Final = {"left": "right", "right": "left", "top": "down", "bottom": "up"}


@rule(
    id="space.clear-space",
    title="Clear space is empty",
    why="The room that a data sheet asks for beside a device, beyond its covers, carries its heat "
    "away and keeps arcs and tools clear. Between two devices the larger of both needs counts. "
    "Ducts count as things standing in the way; linked and plugged partners don't.",
    source=SOURCE,
)
def check_clear_space(panel: Panel) -> Iterator[Reading]:
    """Measure from each envelope to the nearest envelope or duct that faces each side."""
    placed = placed_devices(panel)
    things = [(one.tag, one.envelope) for one in placed]
    things += [(tag, duct.box) for tag, duct in sorted(panel.layout.ducts.items())]
    free = free_distances([one.envelope for one in placed], [box for _, box in things])
    for i, j in excused(placed):
        for distances in free.values():
            distances[i, j] = np.inf
    for i, one in enumerate(placed):
        needs = panel.clear.get(one.tag)
        if needs is None:
            yield undecided(
                one.tag,
                missing="its clear space was not worked out",
                cure="State clear_left … clear_bottom of its part in parts.csv",
                place=one.envelope,
            )
            continue
        yield from tightest(_sides(one, needs, i, free, things))


def _sides(
    one: Placed,
    needs: ClearSpace,
    i: int,
    free: dict[str, Floats],
    things: Sequence[tuple[str, Box]],
) -> Iterator[Reading]:
    shorts = {
        side: getattr(needs, side).room - float(free[side][i].min(initial=np.inf)) for side in SIDES
    }
    for side in SIDES:
        need: Need = getattr(needs, side)
        row = free[side][i]
        if need.room <= 0:
            continue  # stated or taken as none: overlaps are told by their own rules
        for j in _in_the_way(row, need.room):
            yield _reading(one, side, need, things[j][0], (float(row[j]), shorts))
        if np.isinf(row).all():
            yield holds(
                one.tag,
                message=f"nothing faces its {side} side, where {length_of(need.room, None)} are kept",
                place=one.envelope,
                source=need.source,
            )


def _in_the_way(row: Floats, room: float) -> list[int]:
    """Return the places of all that stand nearer than the room, or else of the nearest."""
    near = [int(j) for j in np.flatnonzero(row < room)]
    if near:
        return near
    nearest = int(np.argmin(row))
    return [nearest] if np.isfinite(row[nearest]) else []


def _reading(
    one: Placed, side: str, need: Need, other: str, seen: tuple[float, dict[str, Mm]]
) -> Reading:
    """Return one side's reading; ``seen``: its distance, and what each side of the device lacks."""
    distance, shorts = seen
    return at_least(
        one.tag,
        what=f"{side} of {one.tag}, free to {other}{in_brackets(need)}:",
        measured=distance,
        limit=Limit(value=need.room, source=need.source),
        cure=_cure(one.tag, side, other, need.room - distance, shorts)
        + ("" if need.stated else ", or state the clear space in parts.csv"),
        place=_strip(one.envelope, side, need.room),
    )


def _cure(tag: str, side: str, other: str, short: Mm, shorts: dict[str, Mm]) -> str:
    """Return a move where the opposite side has that much to spare, else all that is lacking."""
    if shorts[OPPOSITE[side]] + short <= 0:
        return f"Move {tag} {enough(short)} {AWAY[side]}, or {other} {enough(short)} the other way"
    if shorts[OPPOSITE[side]] <= 0:
        return f"Move {other} {enough(short)} away from {tag}; {tag} has no room to make way"
    both = " and ".join(
        f"{enough(shorts[each])} {SAID[each]}" for each in SIDES if shorts[each] > 0
    )
    return f"{tag} lacks {both}: move what stands there, or run plan again"


def _strip(box: Box, side: str, room: float) -> Box:
    return {
        "left": Box(box.left - room, box.bottom, box.left, box.top),
        "right": Box(box.right, box.bottom, box.right + room, box.top),
        "top": Box(box.left, box.top, box.right, box.top + room),
        "bottom": Box(box.left, box.bottom - room, box.right, box.bottom),
    }[side]
