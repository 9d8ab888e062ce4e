"""What stands in the way of a row: how far a block must move on, and where a rail ends."""

from __future__ import annotations

import numpy as np

from platewright.arrange.arrays import Blocks, Floats, Frame, Ints, Placed
from platewright.foundation.compiled import lent, lent_apart

RAIL_WIDTH = 36.0
_RAIL_GAP = 5.0  # from a rail's end to the duct beside it


@lent_apart
def clear_of_fixed(
    x: float, b: int, ref: float, blocks: Blocks, placed: Placed, group_gap: float
) -> float:
    """Move ``x`` right until block ``b`` clears every fixed block and its clear space."""
    n = len(blocks.width)
    moved = True
    while moved:
        moved = False
        for f in range(blocks.free, n):
            above, below = ref - placed.ref[f], placed.ref[f] - ref
            if (  # clear of it by the larger of both clear spaces
                below >= max(blocks.env_up[b] + blocks.down[f], blocks.up[b] + blocks.env_down[f])
                or above
                >= max(blocks.env_down[b] + blocks.up[f], blocks.down[b] + blocks.env_up[f])
            ):
                continue
            apart = 0.0
            if blocks.groups[f] != 0 and blocks.groups[b] != 0:
                apart = group_gap if blocks.groups[f] & blocks.groups[b] == 0 else 0.0
            before = placed.x[f] - max(blocks.clear_right[b], blocks.clear_left[f], apart)
            after = placed.x[f] + blocks.width[f]
            after += max(blocks.clear_left[b], blocks.clear_right[f], apart)
            if x + blocks.width[b] > before + 1e-9 and x < after - 1e-9:
                x = after
                moved = True
    return x


@lent_apart
def clear_of_boxes(x: float, b: int, ref: float, blocks: Blocks, frame: Frame) -> float:
    """Move ``x`` right until block ``b`` clears every region that it is too tall for."""
    moved = True
    while moved:
        moved = False
        for k in range(frame.box.shape[0]):
            if blocks.front[b] <= frame.box[k, 4]:
                continue
            on_it = abs(frame.box[k, 1] + frame.box[k, 3] - 2.0 * ref) < 0.5
            if frame.box[k, 6] == 2.0 and blocks.on_rail[b] == 1 and on_it:
                continue  # a rail that stays, and the block hangs on it
            if (
                ref + blocks.env_up[b] <= frame.box[k, 1]
                or ref - blocks.env_down[b] >= frame.box[k, 3]
            ):
                continue
            left, right = frame.box[k, 0], frame.box[k, 2]
            if frame.box[k, 6] == 1.0:  # an upright duct: the clear space counts against it
                left -= max(frame.side_gap, blocks.clear_right[b])
                right += max(frame.side_gap, blocks.clear_left[b])
            if x + blocks.width[b] > left + 1e-9 and x < right - 1e-9:
                x = right
                moved = True
    return x


@lent
def free_about(x: float, box: Floats) -> tuple[float, float]:
    """Return from where to where no region begins or ends about ``x``."""
    start, end = -np.inf, np.inf
    for k in range(box.shape[0]):
        if box[k, 0] > x:
            end = min(end, box[k, 0])
        else:
            start = max(start, box[k, 2])
    return start, end


@lent_apart
def rail_stop(
    start: float, end: float, axis: float, blocks: Blocks, frame: Frame, placed: Placed
) -> float:
    """Return where a rail that comes from ``start`` must stop before ``end``; ``end`` if nowhere."""
    stop = end
    reach = RAIL_WIDTH / 2
    for k in range(frame.box.shape[0]):
        if frame.box[k, 4] >= 0.0 or frame.box[k, 2] <= start:
            continue
        if frame.box[k, 6] == 2.0 and abs(frame.box[k, 1] + frame.box[k, 3] - 2 * axis) < 0.5:
            continue  # it goes on along the rail that stays
        if frame.box[k, 1] < axis + reach and frame.box[k, 3] > axis - reach:
            stop = min(stop, frame.box[k, 0] - _RAIL_GAP)
    for f in range(blocks.free, len(blocks.width)):
        if placed.x[f] + blocks.width[f] <= start:
            continue
        same = blocks.on_rail[f] == 1 and abs(placed.ref[f] - axis) < 0.25
        near = placed.ref[f] - blocks.env_down[f] < axis + reach
        if near and placed.ref[f] + blocks.env_up[f] > axis - reach and not same:
            stop = min(stop, placed.x[f])
    return stop


@lent_apart
def stub_lacks(start: float, row: int, blocks: Blocks, frame: Frame, placed: Placed) -> float:
    """Return what a rail from ``start`` on lacks to take two screws before what is in its way."""
    if frame.fixed == 1 and not np.isnan(frame.row_axis[row]):
        return 0.0  # the rail is there
    end = start + frame.rail_min
    return end - rail_stop(start, end, placed.row_axis[row], blocks, frame, placed)


@lent
def _beside(
    f: int, b: int, blocks: Blocks, placed: Placed, room: tuple[float, float]
) -> tuple[float, float]:
    """Return the room of fixed block ``f``'s rail, less where ``b`` stands beside it, not on it."""
    left, right = room
    on_it = blocks.on_rail[b] == 1 and abs(placed.ref[b] - placed.ref[f]) < 0.25
    over = placed.ref[b] - blocks.env_down[b] < placed.ref[f] + RAIL_WIDTH / 2
    under = placed.ref[b] + blocks.env_up[b] > placed.ref[f] - RAIL_WIDTH / 2
    if over and under and not on_it and placed.row[b] == placed.row[f]:
        if placed.x[b] + blocks.width[b] <= placed.x[f] + 1e-6:
            left = max(left, placed.x[b] + blocks.width[b])
        elif placed.x[b] >= placed.x[f] + blocks.width[f] - 1e-6:
            right = min(right, placed.x[b])
    return left, right


@lent_apart
def fixed_lack(
    tokens: Ints, first: int, last: int, row: int, blocks: Blocks, frame: Frame, placed: Placed
) -> float:
    """Return what the rails of a row's fixed blocks lack to take two screws, mm.

    They have the room between what stands on either side and hangs not on the same rail.
    """
    if frame.rail_min == 0.0 or (frame.fixed == 1 and not np.isnan(frame.row_axis[row])):
        return 0.0
    lack = 0.0
    for f in range(blocks.free, len(blocks.width)):
        if blocks.on_rail[f] == 0 or placed.row[f] != row:
            continue
        room = (frame.left + _RAIL_GAP, frame.right - _RAIL_GAP)
        for k in range(first, last):
            room = _beside(f, tokens[k], blocks, placed, room)
        for g in range(blocks.free, len(blocks.width)):
            room = _beside(f, g, blocks, placed, room)
        lack += max(0.0, frame.rail_min - (room[1] - room[0]))
    return lack


@lent
def off_rails(left: float, right: float, axis: float, rail: Floats) -> int:
    """Tell whether (1) no rail that stays carries a block: a new one, with new holes, would."""
    off = 1
    for k in range(rail.shape[0]):
        if abs(rail[k, 0] - axis) < 0.5 and rail[k, 1] - 0.5 <= left and right <= rail[k, 2] + 0.5:
            off = 0
    return off
