"""Wishes of the parts list: beside, before, in one row, at the top or bottom."""

from __future__ import annotations

from platewright.arrange.arrays import (
    AT_BOTTOM,
    AT_TOP,
    BEFORE,
    BESIDE,
    SAME_ROW,
    Blocks,
    Frame,
    Ints,
    Placed,
)
from platewright.foundation.compiled import lent


@lent
def wishes_missed(tokens: Ints, blocks: Blocks, frame: Frame, placed: Placed, place: Ints) -> int:
    """Count the wishes that the sequence does not obey."""
    if frame.wish.shape[0] == 0:
        return 0
    for k in range(len(tokens)):
        if tokens[k] < blocks.free:
            place[tokens[k]] = k
    missed = 0
    for q in range(frame.wish.shape[0]):
        kind, i, j = frame.wish[q, 0], frame.wish[q, 1], frame.wish[q, 2]
        if kind == AT_TOP:
            missed += placed.row[i] != 0
        elif kind == AT_BOTTOM:
            missed += placed.row[i] != frame.rows - 1
        elif kind == SAME_ROW:
            missed += placed.row[i] != placed.row[j]
        elif kind == BEFORE:
            early = placed.row[i] < placed.row[j]
            early = early or (placed.row[i] == placed.row[j] and placed.x[i] < placed.x[j])
            missed += not early
        else:
            near = placed.row[i] == placed.row[j] and abs(place[i] - place[j]) == 1
            missed += (not near) if kind == BESIDE else near
    return missed
