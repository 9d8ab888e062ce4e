"""Guess what a move is worth before it is measured: most moves are worth nothing.

Only the wires of the two runs that change places are measured, as if nothing else moved. What
stands behind them in their rows moves aside by the difference of the runs' widths; its wires
then grow by as much times their slope: metres of wire for a metre to the right, which is kept
for every block. A guess may be off where blocks change sides or a row packs otherwise, and it
knows nothing of a row that gets lower; so a move is dropped only where the guess says that it is
worse by some margin.
"""

from __future__ import annotations

import numpy as np

from platewright.arrange.arrays import Blocks, Floats, Frame, Ints, Placed, RowSums, Wiring
from platewright.arrange.kernels.evaluate import screwed_at
from platewright.foundation.compiled import lent

OFF = 2.0  # mm of wire that a guess may be off for a mm of difference in width


@lent
def _slopes(
    w: int, ends: Ints, spans: Floats, x: Floats, row: Ints, upright_x: Floats, hinge_x: float
) -> tuple[float, float]:
    """Return by how much a wire grows for a mm that its end a, and its end b, goes right."""
    a, b = ends[w, 0], ends[w, 1]
    xa = x[a] + spans[w, 0]
    at_a, at_b = hinge_x, 0.0
    xb = 0.0
    if b >= 0:
        xb = x[b] + spans[w, 1]
        if row[a] + ends[w, 2] == row[b] + ends[w, 3]:
            at_a, at_b = xb, xa
        else:
            best = np.inf
            for v in range(len(upright_x)):
                way = abs(xa - upright_x[v]) + abs(xb - upright_x[v])
                if way < best:
                    best = way
                    at_a = upright_x[v]
            at_b = at_a
    return np.sign(xa - at_a), np.sign(xb - at_b)


@lent
def _slope_anew(w: int, wiring: Wiring, frame: Frame, placed: Placed, sums: RowSums) -> None:
    """Tell the slopes of a wire, and of the blocks at its ends, again."""
    ends, slope, wire_slope = wiring.ends, sums.slope, sums.wire_slope
    a, b = _slopes(w, ends, wiring.spans, placed.x, placed.row, frame.upright_x, frame.hinge_x)
    slope[ends[w, 0]] += a - wire_slope[w, 0]
    wire_slope[w, 0] = a
    if ends[w, 1] >= 0:
        slope[ends[w, 1]] += b - wire_slope[w, 1]
        wire_slope[w, 1] = b


@lent
def slopes_anew(
    touched: Ints, count: int, wiring: Wiring, frame: Frame, placed: Placed, sums: RowSums
) -> None:
    """Tell the slopes of some wires, and of the blocks at their ends, again."""
    for k in range(count):
        _slope_anew(touched[k], wiring, frame, placed, sums)


@lent
def all_slopes(wiring: Wiring, frame: Frame, placed: Placed, sums: RowSums) -> None:
    """Tell the slopes of all wires and blocks."""
    sums.slope[:] = 0.0
    sums.wire_slope[:] = 0.0
    for w in range(len(wiring.ends)):
        _slope_anew(w, wiring, frame, placed, sums)


@lent
def behind(tokens: Ints, first: int, last: int, slope: Floats) -> float:
    """Sum up the slopes of a run of blocks."""
    total = 0.0
    for k in range(first, last):
        total += slope[tokens[k]]
    return total


@lent
def _left_at(k: int, tokens: Ints, blocks: Blocks, frame: Frame, placed: Placed) -> float:
    """Return where a run that is put in at place k would begin, as things stand."""
    x = frame.left
    if k < len(tokens) and tokens[k] < blocks.free:
        x = placed.x[tokens[k]]
    elif k > 0 and tokens[k - 1] < blocks.free:
        x = placed.x[tokens[k - 1]] + blocks.width[tokens[k - 1]]
    return x


@lent
def _width(tokens: Ints, i: int, length: int, blocks: Blocks, placed: Placed) -> float:
    """Return the width of a run in a row, as it stands."""
    wide = 0.0
    if length > 0:
        last = tokens[i + length - 1]
        wide = placed.x[last] + blocks.width[last] - placed.x[tokens[i]]
    return wide


@lent
def difference(
    tokens: Ints, move: tuple[int, int, int, int], blocks: Blocks, placed: Placed
) -> float:
    """Return by how much the first run of a move is wider than the second, mm."""
    i, one, j, two = move
    first = _width(tokens, i, one, blocks, placed)
    return first - _width(tokens, j, two, blocks, placed)


@lent
def overflows(
    tokens: Ints, r: int, ends: Ints, more: float, blocks: Blocks, frame: Frame, placed: Placed
) -> bool:
    """Tell whether a row that gets wider by ``more`` can't fit, whatever the gaps in it."""
    last = ends[r] - 1
    over = False
    give = 10.0  # clear spaces may be shared otherwise
    if frame.box.shape[0] > 0 or blocks.free < len(blocks.width):
        give = 20.0  # and gaps before what stands in the way may fill up
    if last >= 0 and tokens[last] < blocks.free:
        b = tokens[last]
        over = placed.x[b] + blocks.width[b] + more > frame.right + give
    return over


@lent
def _shift(
    tokens: Ints, i: int, length: int, off: float, row: int, x: Floats, new_x: Floats,
    new_row: Ints, moved: Ints, count: int,
) -> int:  # fmt: skip
    """Put a run elsewhere across; return the number of blocks listed."""
    for k in range(i, i + length):
        b = tokens[k]
        new_x[b] = x[b] + off
        new_row[b] = row
        moved[count] = b
        count += 1
    return count


@lent
def _lift(
    moved: Ints, first: int, last: int, edges: tuple[float, float, float], on_rail: Ints,
    up: Floats, down: Floats, pull: Floats, ref: Floats, new_ref: Floats,
) -> float:  # fmt: skip
    """Put blocks at a row's height; return what that costs. ``edges``: rail axis, top, bottom."""
    axis, top, bottom = edges
    change = 0.0
    for k in range(first, last):
        b = moved[k]
        if on_rail[b] == 1:
            new_ref[b] = axis
        else:
            new_ref[b] = screwed_at(top, bottom, up[b], down[b])
        change += pull[b] * (new_ref[b] - ref[b])
    return change


@lent
def _drawn(moved: Ints, count: int, draw: Floats, x: Floats, new_x: Floats) -> float:
    """Return what blocks cost that go right."""
    total = 0.0
    for k in range(count):
        b = moved[k]
        total += draw[b] * (new_x[b] - x[b])
    return total


@lent
def put_roughly(
    tokens: Ints, move: tuple[int, int, int, int], wider: float, rows: tuple[int, int],
    blocks: Blocks, frame: Frame, sums: RowSums, old: Placed, new: Placed, moved: Ints,
) -> tuple[float, int]:  # fmt: skip
    """Put both runs of a move where they would go; return (cost but for their wires, blocks moved).

    ``tokens``: before the move. ``wider``: mm by which the first run is wider than the second.
    ``new`` must be as ``old``. The blocks are listed in ``moved``.
    """
    i, one, j, two = move
    r, s = rows
    x = old.x
    to_one = _left_at(j, tokens, blocks, frame, old)
    to_two = _left_at(i, tokens, blocks, frame, old)
    slope, ends = sums.slope, sums.ends
    aside = 0.0
    if r == s:
        to_one -= wider
        if wider != 0.0:
            aside -= wider * behind(tokens, i + one, j, slope)
    elif wider != 0.0:
        aside += wider * behind(tokens, j + two, ends[s], slope)
        aside -= wider * behind(tokens, i + one, ends[r], slope)
    off_one = to_one - x[tokens[i]] if one > 0 else 0.0
    off_two = to_two - x[tokens[j]] if two > 0 else 0.0
    count = _shift(tokens, i, one, off_one, s, x, new.x, new.row, moved, 0)
    first = count
    count = _shift(tokens, j, two, off_two, r, x, new.x, new.row, moved, count)
    cost = _drawn(moved, count, blocks.draw, x, new.x)
    at_s = (old.row_axis[s], old.row_top[s], old.row_bottom[s])
    at_r = (old.row_axis[r], old.row_top[r], old.row_bottom[r])
    cost += _lift(
        moved, 0, first, at_s, blocks.on_rail, blocks.up, blocks.down, blocks.pull, old.ref, new.ref
    )
    cost += _lift(
        moved, first, count, at_r, blocks.on_rail, blocks.up, blocks.down, blocks.pull, old.ref,
        new.ref,
    )  # fmt: skip
    return frame.w_wire * (aside - OFF * abs(wider)) + cost, count
