"""Try every order of a few neighbours in a row, everything else as it is."""

from __future__ import annotations

import numpy as np

from platewright.arrange.arrays import Blocks, Floats, Frame, Ints, Placed, RowSums, Wiring
from platewright.arrange.kernels.evaluate import (
    evaluate,
    pack_row,
    wire_length,
)
from platewright.arrange.kernels.warmth import warmest
from platewright.arrange.kernels.wishes import wishes_missed
from platewright.arrange.kernels.zones import zones_again
from platewright.foundation.compiled import compiled, lent

_DUST = 1e-6  # mm of wire: less is a rounding
_SAME = 1e-9  # mm that are missing in width: less is a rounding


@lent
def _wires_from(
    tokens: Ints, first: int, last: int, wiring: Wiring, mark: Ints, touched: Ints
) -> int:
    """List the wires of the blocks at places ``first`` to ``last``; return how many."""
    count = 0
    for k in range(first, last):
        b = tokens[k]
        for q in range(wiring.wire_first[b], wiring.wire_first[b + 1]):
            w = wiring.wire_of[q]
            if mark[w] == 0:
                mark[w] = 1
                touched[count] = w
                count += 1
    for q in range(count):
        mark[touched[q]] = 0
    return count


@lent
def _price_row(
    tokens: Ints, span: tuple[int, int, int], blocks: Blocks, wiring: Wiring, frame: Frame,
    room: tuple[Placed, RowSums], wires: Ints,
) -> tuple[float, float]:  # fmt: skip
    """Return what is missing in width in a row, and the part of the cost that its order sets."""
    row, first, last = span
    placed, sums = room
    short, rails = pack_row(tokens, first, last, row, blocks, frame, placed)
    cost = frame.w_rail * rails
    for k in range(first, last):
        b = tokens[k]
        cost += blocks.pull[b] * placed.ref[b] + blocks.draw[b] * placed.x[b]
    for q in range(len(wires)):
        cost += frame.w_wire * wire_length(
            wires[q], wiring.ends, wiring.spans, placed.x, placed.ref, placed.row,
            placed.duct_axis, frame.upright_x, frame.hinge_x,
        )  # fmt: skip
    if frame.wish.shape[0] > 0:
        cost += frame.w_wish * wishes_missed(tokens, blocks, frame, placed, sums.place)
    cost += frame.w_zone * zones_again(placed.zone)
    if frame.w_cool > 0.0:
        cost += frame.w_cool * warmest(frame.hot, frame.air, blocks.width, placed)
    return short, cost


@compiled
def best_order_of(
    tokens: Ints,
    window: tuple[int, int],
    extra: Floats,
    blocks: Blocks,
    wiring: Wiring,
    frame: Frame,
    room: tuple[Placed, RowSums],
) -> bool:
    """Put ``tokens`` from place ``window[0]`` on, ``window[1]`` of them, in their best order.

    The order in a row sets no height and moves nothing in other rows: so for every order the
    window's row is packed anew, and the wires of its blocks from the window on are measured
    anew. Nothing is assumed of gaps, ducts or neighbours. All orders come up one exchange apart
    (B. R. Heap, 1963). Returns whether the order changed.
    """
    first, size = window
    placed, sums = room
    evaluate(tokens, extra, blocks, wiring, frame, placed, sums)
    row = placed.row[tokens[first]]
    span = (row, 0 if row == 0 else sums.ends[row - 1] + 1, sums.ends[row])
    touched = np.empty(len(wiring.ends), dtype=np.int64)
    wires = touched[: _wires_from(tokens, first, span[2], wiring, sums.mark, touched)]
    least_bad, least = _price_row(tokens, span, blocks, wiring, frame, room, wires)
    best = tokens[first : first + size].copy()
    swaps = np.zeros(size, dtype=np.int64)
    changed = False
    k = 0
    while k < size:
        if swaps[k] >= k:
            swaps[k] = 0
            k += 1
            continue
        i = first if k % 2 == 0 else first + swaps[k]
        kept = tokens[i]
        tokens[i] = tokens[first + k]
        tokens[first + k] = kept
        swaps[k] += 1
        k = 0
        bad, cost = _price_row(tokens, span, blocks, wiring, frame, room, wires)
        if bad < least_bad - _DUST or (bad <= least_bad + _SAME and cost < least - _DUST):
            least_bad, least = min(bad, least_bad), cost
            best[:] = tokens[first : first + size]
            changed = True
    tokens[first : first + size] = best
    return changed
