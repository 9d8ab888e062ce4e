"""Place a sequence of blocks and price it.

``evaluate`` is the whole model of a plate in rows: heights of the rows, packing from the left
round whatever stands in the way, wire length by the closed form (same duct: straight; other
duct: by the nearer upright duct). Its first result, the violation, is 0 for a legal plate and
grows in mm of what is missing; its second, the cost, is in mm of wire.
"""

from __future__ import annotations

import numpy as np

from platewright.arrange.arrays import Blocks, Floats, Frame, Ints, Placed, Wiring
from platewright.foundation.compiled import compiled

_INTERLEAVED = 150.0  # violation of one voltage group that starts again in a row
_RAIL_WIDTH = 36.0
_SNAP = 60.0  # a row comes down this far to meet the rail of a fixed device
_NO_UPRIGHT = 5000.0  # cost of a wire between ducts that nothing joins


@compiled
def _rows_of(
    tokens: Ints, blocks: Blocks, rows: int, placed: Placed
) -> tuple[Floats, Floats, Floats]:
    """Read the rows out of the sequence: for each, reach above and below the axis, tallest."""
    above = np.zeros(rows)
    below = np.zeros(rows)
    tallest = np.zeros(rows)
    row = 0
    for token in tokens:
        if token >= blocks.free:
            row += 1
            continue
        placed.row[token] = row
        if blocks.on_rail[token] == 1:
            above[row] = max(above[row], blocks.up[token])
            below[row] = max(below[row], blocks.down[token])
        else:
            tallest[row] = max(tallest[row], blocks.up[token] + blocks.down[token])
    return above, below, tallest


@compiled
def _to_fixed_rail(high: float, low: float, blocks: Blocks, placed: Placed) -> tuple[float, float]:
    """Return (how far a row must come down, its axis then) to meet a fixed device's rail.

    ``high`` and ``low``: where the row's axis may lie without moving the row. The axis is nan
    when no fixed rail is near.
    """
    best = _SNAP
    axis = np.nan
    for f in range(blocks.free, len(blocks.width)):
        ref = placed.ref[f]
        if blocks.on_rail[f] == 1 and ref <= high + 1e-9:
            down = max(0.0, low - ref)
            if down < best:
                best = down
                axis = ref
    return (0.0, axis) if np.isnan(axis) else (best, axis)


@compiled
def _stack_rows(
    extra: Floats,
    blocks: Blocks,
    frame: Frame,
    above: Floats,
    below: Floats,
    tallest: Floats,
    placed: Placed,
) -> float:
    """Set the rows' edges, rail axes and the ducts' axes; return what overflows the plate."""
    missing = 0.0
    if frame.fixed == 1:
        for r in range(frame.rows):
            placed.row_top[r] = frame.row_top[r]
            placed.row_bottom[r] = frame.row_bottom[r]
            high = frame.row_top[r] - frame.row_bottom[r]
            axis = frame.row_axis[r]
            if np.isnan(axis):
                slack = max(0.0, high - above[r] - below[r])
                axis = frame.row_top[r] - above[r] - slack / 2
            placed.row_axis[r] = axis
            missing += max(0.0, above[r] - (frame.row_top[r] - axis))
            missing += max(0.0, below[r] - (axis - frame.row_bottom[r]))
            missing += max(0.0, tallest[r] - high)
            placed.duct_axis[r] = frame.row_top[r] + frame.duct[r] / 2
        last = frame.rows
        placed.duct_axis[last] = frame.row_bottom[last - 1] - frame.duct[last] / 2
        return missing
    y = frame.top
    for r in range(frame.rows):
        y -= extra[r]
        placed.duct_axis[r] = y - frame.duct[r] / 2
        y -= np.ceil(frame.duct[r])
        # whole millimetres: what is marked out with a rule should not need a magnifier
        high = np.ceil(max(np.ceil(above[r]) + below[r], tallest[r]) - 1e-9)
        slack = np.floor(high - above[r] - below[r] + 1e-9)
        axis = y - np.ceil(above[r] - 1e-9) - np.floor(slack / 2)
        shift, held = _to_fixed_rail(
            y - np.ceil(above[r] - 1e-9), y - high + below[r], blocks, placed
        )
        placed.duct_axis[r] -= shift
        y -= shift
        placed.row_top[r] = y
        placed.row_axis[r] = axis if np.isnan(held) else held
        y -= high
        placed.row_bottom[r] = y
    placed.duct_axis[frame.rows] = y - frame.duct[frame.rows] / 2
    y -= frame.duct[frame.rows]
    return max(0.0, frame.bottom - y)


@compiled
def _ducts_hit(frame: Frame, placed: Placed) -> float:
    """Return how far the ducts across reach into regions that must stay free."""
    hit = 0.0
    for k in range(frame.box.shape[0]):
        if frame.box[k, 5] < 1.0:
            continue
        for h in range(frame.rows + 1):
            low = placed.duct_axis[h] - frame.duct[h] / 2
            hit += max(0.0, min(frame.box[k, 3], low + frame.duct[h]) - max(frame.box[k, 1], low))
    return hit


@compiled
def _clear_of_fixed(
    x: float, b: int, ref: float, blocks: Blocks, placed: Placed, group_gap: float
) -> float:
    """Move ``x`` right until block ``b`` clears every fixed block and its clear space."""
    n = len(blocks.width)
    moved = True
    while moved:
        moved = False
        for f in range(blocks.free, n):
            if (
                ref + blocks.env_up[b] <= placed.ref[f] - blocks.env_down[f]
                or ref - blocks.env_down[b] >= placed.ref[f] + blocks.env_up[f]
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


@compiled
def _clear_of_boxes(x: float, b: int, ref: float, blocks: Blocks, frame: Frame) -> float:
    """Move ``x`` right until block ``b`` clears every region that it is too tall for."""
    moved = True
    while moved:
        moved = False
        for k in range(frame.box.shape[0]):
            if blocks.front[b] <= frame.box[k, 4]:
                continue
            if (
                ref + blocks.env_up[b] <= frame.box[k, 1]
                or ref - blocks.env_down[b] >= frame.box[k, 3]
            ):
                continue
            if x + blocks.width[b] > frame.box[k, 0] + 1e-9 and x < frame.box[k, 2] - 1e-9:
                x = frame.box[k, 2]
                moved = True
    return x


@compiled
def _zone_step(zone: int, closed: int, groups: int) -> tuple[int, int, int, int]:
    """Go on to a block of these groups: (zone, closed groups, zone changed, group mixed in).

    A zone is what the present run of blocks may still be, as bits; a group whose run has ended
    in this row is closed and must not start again.
    """
    if groups == 0:
        return zone, closed, 0, 0
    both = zone & groups
    if both != 0:
        return both, closed, 0, 0
    closed |= zone & -zone
    both = groups & ~closed
    if both != 0:
        return both, closed, 1, 0
    return groups, closed, 1, 1


@compiled
def _zones_between(
    start: float, end: float, row: int, zone: int, closed: int, blocks: Blocks, placed: Placed
) -> tuple[int, int, int]:
    """Go on over the fixed blocks that stand between two places of a row."""
    mixed = 0
    for f in range(blocks.free, len(blocks.width)):
        if placed.row[f] == row and start <= placed.x[f] < end:
            zone, closed, _, bad = _zone_step(zone, closed, blocks.groups[f])
            mixed += bad
    return zone, closed, mixed


@compiled
def _pack(tokens: Ints, blocks: Blocks, frame: Frame, placed: Placed) -> tuple[float, int]:
    """Pack every row from the left; return what is missing in width and the rail pieces."""
    missing = 0.0
    rails = 0
    row = 0
    x = frame.left
    last_clear = frame.side_gap
    room = (frame.right - frame.left) * frame.usable
    used = 0.0
    zone = -1
    closed = 0
    told = frame.left - 1e6  # zones are told up to here
    mixed = 0
    rail_start = np.nan
    row_start = True
    for k in range(len(tokens) + 1):
        token = tokens[k] if k < len(tokens) else blocks.free
        if token >= blocks.free:
            if not np.isnan(rail_start) and x < rail_start + frame.rail_min:
                x = rail_start + frame.rail_min
                last_clear = 0.0
            if not row_start:
                missing += max(0.0, x + max(last_clear, frame.side_gap) - frame.right)
                missing += max(0.0, used - room)
            mixed += _zones_between(told, 1e9, row, zone, closed, blocks, placed)[2]
            row += 1
            x, last_clear, used = frame.left, frame.side_gap, 0.0
            zone, closed, rail_start, row_start = -1, 0, np.nan, True
            told = frame.left - 1e6
            continue
        b = token
        gap = max(last_clear, blocks.clear_left[b])
        if _zone_step(zone, closed, blocks.groups[b])[2] == 1:
            gap = max(gap, frame.group_gap)
        if blocks.on_rail[b] == 1:
            ref = placed.row_axis[row]
        else:
            slack = placed.row_top[row] - placed.row_bottom[row] - blocks.up[b] - blocks.down[b]
            ref = placed.row_top[row] - blocks.up[b] - max(0.0, slack) / 2
            if not np.isnan(rail_start):
                x = max(x, rail_start + frame.rail_min - gap)
        begin = x
        x += gap
        # up to the step that places are told in: rounding must never make an overlap
        x = np.ceil(x - 1e-6) if blocks.on_rail[b] == 0 else np.ceil(x * 1000.0 - 1e-3) / 1000.0
        moved_to = x
        for _ in range(50):
            start = moved_to
            moved_to = _clear_of_fixed(moved_to, b, ref, blocks, placed, frame.group_gap)
            moved_to = _clear_of_boxes(moved_to, b, ref, blocks, frame)
            if moved_to == start:
                break
        jumped = moved_to > x
        x = moved_to
        if blocks.free < len(blocks.width):
            zone, closed, bad = _zones_between(told, x, row, zone, closed, blocks, placed)
            mixed += bad
            told = x
        zone, closed, _, bad = _zone_step(zone, closed, blocks.groups[b])
        mixed += bad
        if blocks.on_rail[b] == 0:
            rail_start = np.nan
        elif np.isnan(rail_start) or jumped:
            rail_start = x
            rails += 1
        placed.x[b] = x
        placed.ref[b] = ref
        x += blocks.width[b]
        used += x - begin
        last_clear = blocks.clear_right[b]
        row_start = False
    return missing + _INTERLEAVED * mixed, rails


@compiled
def _fixed_rows(blocks: Blocks, frame: Frame, placed: Placed) -> float:
    """Find the row of each fixed block; return how far they reach out of it."""
    out = 0.0
    for f in range(blocks.free, len(blocks.width)):
        best = 1e18
        for r in range(frame.rows):
            over = max(0.0, placed.ref[f] + blocks.env_up[f] - placed.row_top[r])
            over += max(0.0, placed.row_bottom[r] - placed.ref[f] + blocks.env_down[f])
            if over < best:
                best = over
                placed.row[f] = r
        out += best
        if blocks.on_rail[f] == 1:
            # a rail beside the row's own must be the same rail, or clear of it
            off = abs(placed.ref[f] - placed.row_axis[placed.row[f]])
            if off > 0.25:
                out += max(0.0, min(off, _RAIL_WIDTH - off))
    return out


@compiled
def _wire_length(wiring: Wiring, frame: Frame, placed: Placed) -> float:
    """Return the length of all wires along ducts and stubs, mm."""
    total = 0.0
    joints = len(frame.upright_x)
    top = placed.duct_axis[0]
    low = placed.duct_axis[frame.rows]
    for w in range(len(wiring.a)):
        a = wiring.a[w]
        xa = placed.x[a] + wiring.a_dx[w]
        ha = placed.duct_axis[placed.row[a] + wiring.a_side[w]]
        total += wiring.extra[w] + abs(ha - placed.ref[a] - wiring.a_dy[w])
        b = wiring.b[w]
        if b < 0:
            y = min(max(wiring.b_dy[w], low), top)
            total += abs(xa - frame.hinge_x) + abs(ha - y) + abs(y - wiring.b_dy[w])
            continue
        xb = placed.x[b] + wiring.b_dx[w]
        hb = placed.duct_axis[placed.row[b] + wiring.b_side[w]]
        total += abs(hb - placed.ref[b] - wiring.b_dy[w])
        if placed.row[a] + wiring.a_side[w] == placed.row[b] + wiring.b_side[w]:
            total += abs(xa - xb)
            continue
        best = _NO_UPRIGHT
        for v in range(joints):
            best = min(best, abs(xa - frame.upright_x[v]) + abs(xb - frame.upright_x[v]))
        total += best + abs(ha - hb)
    return total


@compiled
def _wishes_missed(tokens: Ints, blocks: Blocks, frame: Frame, placed: Placed, place: Ints) -> int:
    """Count the wishes that the sequence does not obey."""
    if frame.wish.shape[0] == 0:
        return 0
    for k in range(len(tokens)):
        if tokens[k] < blocks.free:
            place[tokens[k]] = k
    missed = 0
    for q in range(frame.wish.shape[0]):
        kind, i, j = frame.wish[q, 0], frame.wish[q, 1], frame.wish[q, 2]
        if kind == 4:
            missed += placed.row[i] != 0
        elif kind == 5:
            missed += placed.row[i] != frame.rows - 1
        elif kind == 1:
            missed += placed.row[i] != placed.row[j]
        elif kind == 2:
            early = placed.row[i] < placed.row[j]
            early = early or (placed.row[i] == placed.row[j] and placed.x[i] < placed.x[j])
            missed += not early
        else:
            near = placed.row[i] == placed.row[j] and abs(place[i] - place[j]) == 1
            missed += (not near) if kind == 0 else near
    return missed


@compiled
def evaluate(
    tokens: Ints,
    extra: Floats,
    blocks: Blocks,
    wiring: Wiring,
    frame: Frame,
    placed: Placed,
    place: Ints,
) -> tuple[float, float, float]:
    """Place the sequence into ``placed``; return (violation, cost, wire length), all in mm."""
    above, below, tallest = _rows_of(tokens, blocks, frame.rows, placed)
    missing = _stack_rows(extra, blocks, frame, above, below, tallest, placed)
    out = _fixed_rows(blocks, frame, placed)
    if frame.fixed == 0:  # ducts that stay stand where the builder put them
        missing += out + _ducts_hit(frame, placed)
    short, rails = _pack(tokens, blocks, frame, placed)
    wire = _wire_length(wiring, frame, placed)
    cost = frame.w_wire * wire + frame.w_rail * rails
    cost += frame.w_height * (frame.top - placed.duct_axis[frame.rows])
    for b in range(len(blocks.width)):
        cost += blocks.pull[b] * placed.ref[b]
    cost += frame.w_wish * _wishes_missed(tokens, blocks, frame, placed, place)
    return missing + short, cost, wire


def evaluate_plainly(
    tokens: np.ndarray,
    extra: np.ndarray,
    blocks: Blocks,
    wiring: Wiring,
    frame: Frame,
    placed: Placed,
) -> tuple[float, float, float]:
    """Return (violation, cost, wire length) in mm of a sequence, filling ``placed``."""
    place = np.zeros(len(blocks.width), dtype=np.int64)
    missing, cost, wire = evaluate(tokens, extra, blocks, wiring, frame, placed, place)
    return float(missing), float(cost), float(wire)
