"""Try every plate in rows of a small job, leaving out only what a bound proves to be no better.

For plates with nothing in the way: all blocks free, no regions to keep clear, no wishes, no room
added above rows. For every sharing of the blocks among the rows, heights and stubs are set; the
orders in the rows are then tried from the left, depth first. A beginning is left when what it
costs, and what the rest must cost at least, is not below the best plate known.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.arrange.arrays import Blocks, Frame, Ints, Placed, RowSums, Wiring
from platewright.arrange.kernels.evaluate import evaluate, pack_row
from platewright.arrange.kernels.zones import zones_again
from platewright.foundation.compiled import compiled, lent

Flags = NDArray[np.bool_]
_DUST = 1e-6


@lent
def _apart(low: float, high: float, place: float) -> float:
    """Return how far a stretch is from a place at least."""
    return max(0.0, low - place, place - high)


@lent
def _stretch(
    b: int, dx: float, stood: Flags, edge: tuple[int, float], placed: Placed, blocks: Blocks,
    frame: Frame,
) -> tuple[float, float]:  # fmt: skip
    """Return between where a terminal can be: where it is, or in what is left of its row."""
    if stood[b]:
        return placed.x[b] + dx, placed.x[b] + dx
    row, end = edge
    start = frame.left + frame.side_gap
    if placed.row[b] == row:
        start = max(start, end)
    return start + dx, frame.right - frame.side_gap - blocks.width[b] + dx


@lent
def _run(
    w: int, stood: Flags, edge: tuple[int, float], placed: Placed, blocks: Blocks,
    wiring: Wiring, frame: Frame,
) -> float:  # fmt: skip
    """Return the run along ducts across that a wire has at least; exact when both ends stand."""
    a, b = wiring.ends[w, 0], wiring.ends[w, 1]
    low_a, high_a = _stretch(a, wiring.spans[w, 0], stood, edge, placed, blocks, frame)
    if b < 0:
        return _apart(low_a, high_a, frame.hinge_x)
    low_b, high_b = _stretch(b, wiring.spans[w, 1], stood, edge, placed, blocks, frame)
    if placed.row[a] + wiring.ends[w, 2] == placed.row[b] + wiring.ends[w, 3]:
        if a == b:
            return abs(wiring.spans[w, 0] - wiring.spans[w, 1])
        if not stood[a] and not stood[b]:
            if placed.row[a] != placed.row[b]:
                return 0.0
            one = blocks.width[a] - wiring.spans[w, 0] + wiring.spans[w, 1]
            two = blocks.width[b] - wiring.spans[w, 1] + wiring.spans[w, 0]
            return max(0.0, min(one, two))
        return max(0.0, low_a - high_b, low_b - high_a)
    best = np.inf
    for v in range(len(frame.upright_x)):
        axis = frame.upright_x[v]
        best = min(best, _apart(low_a, high_a, axis) + _apart(low_b, high_b, axis))
    return best


@compiled
def _queue(
    stood: Flags, edge: tuple[int, float], placed: Placed, blocks: Blocks, wiring: Wiring
) -> float:
    """Return what standing one behind the other adds to the runs of wires from the left.

    ``_run`` lets every block of the row being filled stand at its edge; but they stand one behind
    the other, best the least width a wire first (W. E. Smith, 1956).
    """
    row, end = edge
    n = len(blocks.width)
    pulls = np.zeros(n)
    for w in range(len(wiring.ends)):
        for k in range(2):
            here, there = wiring.ends[w, k], wiring.ends[w, 1 - k]
            if here < 0 or there < 0 or stood[here] or not stood[there]:
                continue
            if placed.row[here] != row:
                continue
            if row + wiring.ends[w, 2 + k] != placed.row[there] + wiring.ends[w, 3 - k]:
                continue
            if placed.x[there] + wiring.spans[w, 1 - k] <= end + wiring.spans[w, k]:
                pulls[here] += 1.0
    before, total = 0.0, 0.0
    while True:
        first, ratio = -1, np.inf
        for b in range(n):
            if pulls[b] > 0.0 and blocks.width[b] / pulls[b] < ratio:
                first, ratio = b, blocks.width[b] / pulls[b]
        if first < 0:
            return total
        total += pulls[first] * before
        before += blocks.width[first]
        pulls[first] = 0.0


@compiled
def _least(
    stood: Flags, edge: tuple[int, float], placed: Placed, blocks: Blocks, wiring: Wiring,
    frame: Frame,
) -> float:  # fmt: skip
    """Return the runs along ducts across that all wires together have at least."""
    total = _queue(stood, edge, placed, blocks, wiring)
    for w in range(len(wiring.ends)):
        total += _run(w, stood, edge, placed, blocks, wiring, frame)
    return total


@compiled
def _fill(
    row_of: Ints, fixed: float, best: tuple[float, Ints], blocks: Blocks, wiring: Wiring,
    frame: Frame, placed: Placed, most: int,
) -> tuple[float, int]:  # fmt: skip
    """Try all orders of blocks in given rows; return (least cost below ``best``, nodes).

    ``best``: cost to beat, and the order it is told in.
    """
    n, rows = len(row_of), frame.rows
    least, kept = best
    order, tries = np.full(n, -1), np.zeros(n + 1, dtype=np.int64)
    rails, stood = np.zeros(n + 1), np.zeros(n, dtype=np.bool_)
    first = np.zeros(rows + 1, dtype=np.int64)
    for b in range(n):
        first[row_of[b] + 1] += 1
    for r in range(rows):
        first[r + 1] += first[r]
    nodes, d = 0, 0
    while d >= 0 and nodes < most:
        if d < n and order[d] >= 0:
            stood[order[d]] = False
            order[d] = -1
        row = 0
        while row < rows - 1 and first[row + 1] <= d:
            row += 1
        b = tries[d]
        while b < n and (stood[b] or row_of[b] != row):
            b += 1
        if d == n or b >= n:
            d -= 1
            continue
        tries[d] = b + 1
        nodes += 1
        order[d] = b
        short, pieces = pack_row(order, first[row], d + 1, row, blocks, frame, placed)
        if short > _DUST:
            order[d] = -1
            continue
        stood[b] = True
        rails[d + 1] = rails[first[row]] + pieces
        edge = (row, placed.x[b] + blocks.width[b])
        cost = fixed + frame.w_rail * rails[d + 1]
        cost += frame.w_wire * _least(stood, edge, placed, blocks, wiring, frame)
        if d == n - 1:
            cost += frame.w_zone * zones_again(placed.zone)
        if cost >= least - _DUST:
            continue
        d += 1
        tries[d] = 0
        if d == n:
            least = cost
            kept[:] = order
    return least, nodes


@compiled
def _set_cost(
    tokens: Ints, blocks: Blocks, wiring: Wiring, frame: Frame, placed: Placed, sums: RowSums
) -> tuple[float, float]:
    """Return (what is missing in height, cost without rails and runs along ducts across)."""
    extra = np.zeros(frame.rows)
    bad, cost, _ = evaluate(tokens, extra, blocks, wiring, frame, placed, sums)
    for r in range(frame.rows):
        bad -= sums.short[r]
        cost -= frame.w_rail * sums.rails[r]
    cost -= frame.w_zone * zones_again(placed.zone)
    stood = np.ones(len(blocks.width), dtype=np.bool_)
    for w in range(len(wiring.ends)):
        cost -= frame.w_wire * _run(w, stood, (-1, 0.0), placed, blocks, wiring, frame)
    return bad, cost


@compiled
def least_of_all(
    blocks: Blocks, wiring: Wiring, frame: Frame, room: tuple[Placed, RowSums],
    below: float, most: int, best: Ints,
) -> tuple[float, int, bool]:  # fmt: skip
    """Return (least cost below ``below``, or ``below``; nodes; whether all was tried).

    ``best`` is filled with the sequence of that cost. Gives up after ``most`` nodes.
    """
    placed, sums = room
    n, rows = len(blocks.width), frame.rows
    least, nodes = below, 0
    row_of = np.zeros(n, dtype=np.int64)
    kept = np.zeros(n, dtype=np.int64)
    tokens = np.zeros(n + rows - 1, dtype=np.int64)
    nothing = np.zeros(n, dtype=np.bool_)
    limit = frame.right - frame.left - 2 * frame.side_gap + _DUST
    while nodes < most:
        nodes += 1
        wide = False
        k = 0
        for r in range(rows):
            total = 0.0
            for b in range(n):
                if row_of[b] == r:
                    tokens[k] = b
                    total += blocks.width[b]
                    k += 1
            wide = wide or total > limit
            if r < rows - 1:
                tokens[k] = n + r
                k += 1
        if not wide:
            missing, fixed = _set_cost(tokens, blocks, wiring, frame, placed, sums)
            runs = _least(nothing, (-1, 0.0), placed, blocks, wiring, frame)
            if missing <= _DUST and fixed + frame.w_wire * runs < least - _DUST:
                now, tried = _fill(
                    row_of, fixed, (least, kept), blocks, wiring, frame, placed, most - nodes
                )
                nodes += tried
                if now < least:
                    least = now
                    k = 0
                    for r in range(rows):
                        for q in range(n):
                            if row_of[kept[q]] == r:
                                best[k] = kept[q]
                                k += 1
                        if r < rows - 1:
                            best[k] = n + r
                            k += 1
        b = 0
        while b < n and row_of[b] == rows - 1:
            row_of[b] = 0
            b += 1
        if b == n:
            return least, nodes, nodes < most
        row_of[b] += 1
    return least, nodes, False
