"""Place a sequence of blocks and price it.

This is the whole model of a plate in rows: heights of the rows, packing from the left round
whatever stands in the way, wire length by the closed form (same duct: straight; other duct: by
the nearer upright duct). The violation is 0 for a legal plate and grows in mm of what is
missing; the cost is in mm of wire. ``evaluate`` prices a sequence from scratch; the walk in
``anneal`` prices only the rows that a move touches, with the same functions.
"""

from __future__ import annotations

import numpy as np

from platewright.arrange.arrays import Blocks, Floats, Frame, Ints, Placed, RowSums, Wiring
from platewright.arrange.kernels.in_the_way import (
    RAIL_WIDTH,
    clear_of_boxes,
    clear_of_fixed,
    fixed_lack,
    free_about,
    off_rails,
    rail_stop,
    stub_lacks,
)
from platewright.arrange.kernels.warmth import warmest
from platewright.arrange.kernels.wishes import wishes_missed
from platewright.arrange.kernels.zones import tell_zones, zone_step, zones_again, zones_between
from platewright.foundation.compiled import lent

_INTERLEAVED = 150.0  # violation of one voltage group that starts again in a row
_DUST = 1e-6  # mm: less than this is missing only by rounding
_SNAP = 60.0  # a row comes down this far to meet the rail of a fixed device
_NEW_RAIL = 100  # pieces of rail that a block is worth which asks for new holes
_NO_UPRIGHT = 5000.0  # cost of a wire between ducts that nothing joins


@lent
def row_reach(
    tokens: Ints, first: int, last: int, on_rail: Ints, up: Floats, down: Floats
) -> tuple[float, float, float]:
    """Return a row's reach above and below its rail axis, and its tallest other block."""
    above = 0.0
    below = 0.0
    tallest = 0.0
    for k in range(first, last):
        b = tokens[k]
        if on_rail[b] == 1:
            above = max(above, up[b])
            below = max(below, down[b])
        else:
            tallest = max(tallest, up[b] + down[b])
    return above, below, tallest


@lent
def row_ends(tokens: Ints, free: int, ends: Ints) -> None:
    """Fill ``ends`` with the places of the row-end tokens, and the length of the sequence last."""
    row = 0
    for k in range(len(tokens)):
        if tokens[k] >= free:
            ends[row] = k
            row += 1
    ends[row] = len(tokens)


@lent
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


@lent
def _fixed_reach(top: float, bottom: float, blocks: Blocks, placed: Placed) -> float:
    """Return how far below ``top`` the fixed blocks that stand in a row need it to reach."""
    reach = 0.0
    for f in range(blocks.free, len(blocks.width)):
        if bottom < placed.ref[f] < top:
            reach = max(reach, top - placed.ref[f] + blocks.down[f])
    return reach


@lent
def _stay_rows(frame: Frame, sums: RowSums, placed: Placed) -> float:
    """Set edges and axes of rows between ducts that stay; return what does not fit in height."""
    missing = 0.0
    for r in range(frame.rows):
        above, below = sums.above[r], sums.below[r]
        placed.row_top[r] = frame.row_top[r]
        placed.row_bottom[r] = frame.row_bottom[r]
        high = frame.row_top[r] - frame.row_bottom[r]
        axis = frame.row_axis[r]
        if np.isnan(axis):
            slack = max(0.0, high - above - below)
            axis = frame.row_top[r] - np.ceil(above) - np.floor(slack / 2)
        placed.row_axis[r] = axis
        missing += max(0.0, above - (frame.row_top[r] - axis))
        missing += max(0.0, below - (axis - frame.row_bottom[r]))
        missing += max(0.0, sums.tallest[r] - high)
        placed.duct_axis[r] = frame.row_top[r] + frame.duct[r] / 2
    last = frame.rows
    placed.duct_axis[last] = frame.row_bottom[last - 1] - frame.duct[last] / 2
    return missing


@lent
def _stack_rows(
    extra: Floats, blocks: Blocks, frame: Frame, sums: RowSums, placed: Placed
) -> float:
    """Set the rows' edges, rail axes and the ducts' axes; return what overflows the plate."""
    y = frame.top
    for r in range(frame.rows):
        y -= extra[r]
        placed.duct_axis[r] = y - frame.duct[r] / 2
        y -= np.ceil(frame.duct[r])
        above, below = sums.above[r], sums.below[r]
        # whole millimetres: what is marked out with a rule should not need a magnifier
        high = np.ceil(max(np.ceil(above) + below, sums.tallest[r]) - 1e-9)
        slack = np.floor(high - above - below + 1e-9)
        axis = y - np.ceil(above - 1e-9) - np.floor(slack / 2)
        shift, held = _to_fixed_rail(y - np.ceil(above - 1e-9), y - high + below, blocks, placed)
        placed.duct_axis[r] -= shift
        y -= shift
        placed.row_top[r] = y
        placed.row_axis[r] = axis if np.isnan(held) else held
        y -= max(high, np.ceil(_fixed_reach(y, y - high, blocks, placed)))
        placed.row_bottom[r] = y
    placed.duct_axis[frame.rows] = y - frame.duct[frame.rows] / 2
    y -= frame.duct[frame.rows]
    return max(0.0, frame.bottom - y)


@lent
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


@lent
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
                out += max(0.0, min(off, RAIL_WIDTH - off))
    return out


@lent
def set_rows(extra: Floats, blocks: Blocks, frame: Frame, sums: RowSums, placed: Placed) -> float:
    """Set all that follows from the rows' heights; return what is missing in height, mm."""
    if frame.fixed == 1:  # ducts that stay stand where the builder put them
        missing = _stay_rows(frame, sums, placed)
        _fixed_rows(blocks, frame, placed)
        return missing
    missing = _stack_rows(extra, blocks, frame, sums, placed)
    return missing + _fixed_rows(blocks, frame, placed) + _ducts_hit(frame, placed)


@lent
def screwed_at(top: float, bottom: float, up: float, down: float) -> float:
    """Return how high a screwed block stands in a row: in the middle of its height."""
    return top - up - max(0.0, top - bottom - up - down) / 2


@lent
def pack_row(
    tokens: Ints, first: int, last: int, row: int, blocks: Blocks, frame: Frame, placed: Placed
) -> tuple[float, int]:
    """Pack one row from the left; return what is missing in width and its rail pieces."""
    rails = 0
    x = frame.left
    last_clear = frame.side_gap
    used = 0.0
    zone, closed, first_zone, mixed = -1, 0, 0, 0
    told = frame.left - 1e6  # zones are told up to here
    rail_start = np.nan
    stub = 0.0  # mm that rails lack to take two screws
    has_fixed = blocks.free < len(blocks.width)
    has_rails = frame.rail.shape[0] > 0
    free_from, free_to = -np.inf, -np.inf  # nothing known is in the way from here to there
    side_gap = frame.side_gap
    axis, top, bottom = placed.row_axis[row], placed.row_top[row], placed.row_bottom[row]
    width, clear_left, clear_right = blocks.width, blocks.clear_left, blocks.clear_right
    group_of, on_rail = blocks.groups, blocks.on_rail
    to_x, to_ref, to_row = placed.x, placed.ref, placed.row
    for k in range(first, last):
        b = tokens[k]
        wide, groups, hangs = width[b], group_of[b], on_rail[b] == 1
        gap = max(last_clear, clear_left[b])
        enters = groups != 0 and zone & groups == 0  # another zone begins here
        if enters:
            gap = max(gap, frame.group_gap)
        if hangs:
            ref = axis
        else:
            ref = screwed_at(top, bottom, blocks.up[b], blocks.down[b])
            if x < rail_start + frame.rail_min:  # never so while there is no rail (nan)
                stub += stub_lacks(rail_start, row, blocks, frame, placed)
                x = max(x, rail_start + frame.rail_min - gap)
        begin = x
        x += gap
        if not hangs:  # whole millimetres, up: rounding must never make an overlap
            x = np.ceil(x - 1e-6)
        broken = False
        beside = x + wide + max(clear_right[b], side_gap) > free_to
        if beside or has_fixed or x < free_from + max(clear_left[b], side_gap):
            moved_to = x
            for _ in range(50):
                start = moved_to
                if has_fixed:
                    moved_to = clear_of_fixed(moved_to, b, ref, blocks, placed, frame.group_gap)
                moved_to = clear_of_boxes(moved_to, b, ref, blocks, frame)
                if moved_to == start:
                    break
            if moved_to > x:
                if not np.isnan(rail_start):
                    stop = rail_stop(rail_start, moved_to, axis, blocks, frame, placed)
                    if stop < moved_to:
                        broken = True
                        stub += stub_lacks(rail_start, row, blocks, frame, placed)
                x = np.ceil(moved_to * 1000.0 - 1e-3) / 1000.0  # the step that places are told in
            free_from, free_to = free_about(x, frame.box)
        if has_fixed:
            zone, closed, first_zone, bad = zones_between(
                told, x, row, (zone, closed, first_zone), blocks, placed
            )
            mixed += bad
            told = x
            enters = groups != 0 and zone & groups == 0
        if enters:
            if first_zone == 0:
                first_zone = zone
            zone, closed, _, bad = zone_step(zone, closed, groups)
            mixed += bad
        elif groups != 0:
            zone &= groups
        if not hangs:
            rail_start = np.nan
        elif broken or np.isnan(rail_start):
            rail_start = x
            rails += 1
        if has_rails and hangs:
            rails += _NEW_RAIL * off_rails(x, x + wide, ref, frame.rail)
        to_x[b] = x
        to_ref[b] = ref
        to_row[b] = row
        x += wide
        used += x - begin
        last_clear = clear_right[b]
    if has_fixed:
        zone, closed, first_zone, bad = zones_between(
            told, 1e9, row, (zone, closed, first_zone), blocks, placed
        )
        mixed += bad
        stub += fixed_lack(tokens, first, last, row, blocks, frame, placed)
    tell_zones(row, zone, closed, first_zone, placed)
    missing = _INTERLEAVED * mixed + stub
    if last > first:
        if x < rail_start + frame.rail_min:
            missing += stub_lacks(rail_start, row, blocks, frame, placed)
            x = rail_start + frame.rail_min
            last_clear = 0.0
        missing += max(0.0, x + max(last_clear, frame.side_gap) - frame.right)
        missing += max(0.0, used - (frame.right - frame.left) * frame.usable)
    return missing, rails


@lent
def wire_length(
    w: int, ends: Ints, spans: Floats, x: Floats, ref: Floats, row: Ints, duct_axis: Floats,
    upright_x: Floats, hinge_x: float,
) -> float:  # fmt: skip
    """Return the length of one wire along ducts and stubs, mm.

    Takes the arrays one by one: taking them out of their records for every wire costs ten times
    as much as the sum itself.
    """
    a = ends[w, 0]
    xa = x[a] + spans[w, 0]
    duct_a = row[a] + ends[w, 2]
    ha = duct_axis[duct_a]
    total = spans[w, 4] + abs(ha - ref[a] - spans[w, 2])
    b = ends[w, 1]
    if b < 0:
        leave = spans[w, 3]
        y = min(max(leave, duct_axis[len(duct_axis) - 1]), duct_axis[0])
        total += abs(xa - hinge_x) + abs(ha - y) + abs(y - leave)
    else:
        xb = x[b] + spans[w, 1]
        duct_b = row[b] + ends[w, 3]
        hb = duct_axis[duct_b]
        total += abs(hb - ref[b] - spans[w, 3])
        if duct_a == duct_b:
            total += abs(xa - xb)
        else:
            best = _NO_UPRIGHT
            for v in range(len(upright_x)):
                best = min(best, abs(xa - upright_x[v]) + abs(xb - upright_x[v]))
            total += best + abs(ha - hb)
    return total


@lent
def wire_lengths(
    ends: Ints, spans: Floats, x: Floats, ref: Floats, row: Ints, duct_axis: Floats,
    upright_x: Floats, hinge_x: float, lengths: Floats,
) -> float:  # fmt: skip
    """Fill in the length of every wire; return their sum, mm."""
    total = 0.0
    for w in range(len(lengths)):
        lengths[w] = wire_length(w, ends, spans, x, ref, row, duct_axis, upright_x, hinge_x)
        total += lengths[w]
    return total


@lent
def place(
    tokens: Ints, extra: Floats, blocks: Blocks, frame: Frame, placed: Placed, sums: RowSums
) -> tuple[float, int]:
    """Place the sequence into ``placed`` and ``sums``; return violation in mm and rail pieces."""
    row_ends(tokens, blocks.free, sums.ends)
    first = 0
    for r in range(frame.rows):
        above, below, tallest = row_reach(
            tokens, first, sums.ends[r], blocks.on_rail, blocks.up, blocks.down
        )
        sums.above[r], sums.below[r], sums.tallest[r] = above, below, tallest
        first = sums.ends[r] + 1
    missing = set_rows(extra, blocks, frame, sums, placed)
    first, rails = 0, 0
    for r in range(frame.rows):
        short, pieces = pack_row(tokens, first, sums.ends[r], r, blocks, frame, placed)
        sums.short[r], sums.rails[r] = short, pieces
        missing += short
        rails += pieces
        first = sums.ends[r] + 1
    return (0.0 if missing < _DUST else missing), rails


@lent
def price(
    tokens: Ints, rails: int, blocks: Blocks, wiring: Wiring, frame: Frame, placed: Placed,
    sums: RowSums,
) -> tuple[float, float]:  # fmt: skip
    """Price what ``place`` has placed; return cost and wire in mm."""
    wire = wire_lengths(
        wiring.ends, wiring.spans, placed.x, placed.ref, placed.row, placed.duct_axis,
        frame.upright_x, frame.hinge_x, sums.wire,
    )  # fmt: skip
    cost = frame.w_wire * wire + frame.w_rail * rails
    high = frame.top - placed.duct_axis[frame.rows]
    cost += (frame.w_height + frame.w_uprights) * high + frame.base
    for b in range(len(blocks.width)):
        cost += blocks.pull[b] * placed.ref[b] + blocks.draw[b] * placed.x[b]
    cost += frame.w_wish * wishes_missed(tokens, blocks, frame, placed, sums.place)
    cost += frame.w_zone * zones_again(placed.zone)
    if frame.w_cool > 0.0:
        cost += frame.w_cool * warmest(frame.hot, frame.air, blocks.width, placed)
    return cost, wire


@lent
def evaluate(
    tokens: Ints,
    extra: Floats,
    blocks: Blocks,
    wiring: Wiring,
    frame: Frame,
    placed: Placed,
    sums: RowSums,
) -> tuple[float, float, float]:
    """Place the sequence into ``placed`` and ``sums``; return violation, cost, wire, all in mm."""
    missing, rails = place(tokens, extra, blocks, frame, placed, sums)
    cost, wire = price(tokens, rails, blocks, wiring, frame, placed, sums)
    return missing, cost, wire


def evaluate_plainly(
    tokens: Ints, extra: Floats, data: tuple[Blocks, Wiring, Frame], placed: Placed, sums: RowSums
) -> tuple[float, float, float]:
    """Return (violation, cost, wire length) in mm of a sequence, filling ``placed``."""
    missing, cost, wire = evaluate(tokens, extra, *data, placed, sums)
    return float(missing), float(cost), float(wire)
