"""What every plate in rows must pay for its wires, as a linear program in whole and real numbers.

Only this is kept of a plate: which row each block is in, that a row's blocks fit in its width,
and how high rows are. Every legal plate gives values of the variables that obey all rows of the
program, and at these values its objective is at most the plate's wire length; so its optimum,
and any lower bound of it that the solver proves, is a lower bound for all plates. Item by item:

in[i,r]      1 if block i is in row r. Each block is in one row; a row's widths, with the gap to
             the upright duct on each side, fit between the upright ducts.
pair[k,r,s]  1 if the two blocks of pair k are in rows r and s; its sums over s and r are in[i,r]
             and in[j,s]. Its price is the sum over the pair's wires of ``_least_run``.
above, below, high[r]  at least what each block in the row needs over and under the rail axis,
             and altogether.
up, down[i]  from the block's line to the row's upper and lower edge. On a rail: at least above[r]
             and below[r], together at least high[r], and (axis in the middle of what is spare,
             rounded to whole mm) each within 1 mm of its half of the spare. Screw-mounted: half
             of what the row is higher than the block is added to either side. A wire's stub is
             up or down, less the terminal's place, and half the duct: the duct lies at the row's
             edge or farther.
more[k]      wires from above a row to below the same row pass its whole height: high[r] less
             what ``_least_run`` has counted, for each.

A condition that holds only for blocks in the row, or pairs in it, is let go by a term that is as
large as the condition can ever ask (the difference of largest and least value).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from platewright.arrange.arrays import Blocks, Floats, Frame, Wiring
from platewright.arrange.solvers.program import Program


@dataclass(frozen=True, slots=True)
class _Ends:
    """The two ends of a wire: block, side of the duct, terminal from left and right edge."""

    block: tuple[int, int]
    side: tuple[int, int]
    from_left: tuple[float, float]
    from_right: tuple[float, float]


def _side_reach(b: int, blocks: Blocks, frame: Frame) -> tuple[float, float]:
    """Return how near to the upright ducts on the sides a block's edges can be at most."""
    left = frame.left + max(frame.side_gap, float(blocks.clear_left[b]))
    right = frame.right - max(frame.side_gap, float(blocks.clear_right[b]))
    return left, right


def _to_uprights(ends: _Ends, blocks: Blocks, frame: Frame, *, one_row: bool) -> float:
    """Return a run that two terminals need at least to one and the same upright duct.

    To a duct on a side: each terminal's distance when its block stands nearest. In one row the
    farther block has the nearer one between. To a duct in the middle, or to none: 0.
    """
    (a, b), best = ends.block, np.inf
    for axis in frame.upright_x:
        runs = []
        for end, block in enumerate(ends.block):
            left, right = _side_reach(block, blocks, frame)
            if axis <= frame.left:
                runs.append(left - axis + ends.from_left[end])
            elif axis >= frame.right:
                runs.append(axis - right + ends.from_right[end])
            else:
                return 0.0
        between = min(blocks.width[a], blocks.width[b]) if one_row and a != b else 0.0
        best = min(best, max(0.0, sum(runs)) + float(between))
    return best if np.isfinite(best) else 0.0


def _least_run(
    ends: _Ends, rows: tuple[int, int], blocks: Blocks, frame: Frame, lowest: float
) -> tuple[float, bool]:
    """Return (least run of a wire with its blocks in these rows, whether it changes ducts).

    In one duct and row, two blocks stand side by side at least. Else the wire goes up or down
    past every row between its two ducts; a row is as high as the wire's own block in it, any
    other row as ``lowest``.
    """
    (a, b), (r, s) = ends.block, rows
    first, last = sorted((r + ends.side[0], s + ends.side[1]))
    if first == last:
        if a == b:
            return abs(ends.from_left[0] - ends.from_left[1]), False
        beside = min(ends.from_right[0] + ends.from_left[1], ends.from_right[1] + ends.from_left[0])
        return (max(0.0, beside) if r == s else 0.0), False
    run = _to_uprights(ends, blocks, frame, one_row=r == s)
    high = blocks.up + blocks.down
    for row in range(first, last):
        own = [float(high[block]) for block, at in ((a, r), (b, s)) if at == row]
        run += float(np.min(frame.duct)) + max(lowest, *own, 0.0)
    return run, True


@dataclass(slots=True)
class _Pair:
    """Wires between the same two blocks: least run and wires that change ducts, per rows."""

    run: Floats
    changes: Floats


def _ends_of(w: int, blocks: Blocks, wiring: Wiring) -> _Ends:
    a, b, side_a, side_b = (int(v) for v in wiring.ends[w])
    left = (float(wiring.spans[w, 0]), float(wiring.spans[w, 1]))
    right = (float(blocks.width[a]) - left[0], float(blocks.width[b]) - left[1])
    return _Ends((a, b), (side_a, side_b), left, right)


def _pairs(blocks: Blocks, wiring: Wiring, frame: Frame) -> dict[tuple[int, int], _Pair]:
    """Gather the wires between free blocks by pairs of blocks."""
    rows = frame.rows
    room = _room(frame)
    free = blocks.free
    filled = float(np.sum(blocks.width[:free])) > (rows - 1) * room  # no row can be empty
    lowest = float(np.min((blocks.up + blocks.down)[:free])) if filled else 0.0
    pairs: dict[tuple[int, int], _Pair] = {}
    for w in range(len(wiring.ends)):
        ends = _ends_of(w, blocks, wiring)
        a, b = ends.block
        if not (0 <= a < free and 0 <= b < free):
            continue
        pair = pairs.setdefault(
            (min(a, b), max(a, b)), _Pair(np.zeros((rows, rows)), np.zeros((rows, rows)))
        )
        for r in range(rows):
            for s in range(rows):
                run, change = _least_run(ends, (r, s), blocks, frame, lowest)
                at = (r, s) if a <= b else (s, r)
                pair.run[at] += run
                pair.changes[at] += change
    return pairs


def _room(frame: Frame) -> float:
    """Return what the widths of a row's blocks may sum up to."""
    across = frame.right - frame.left
    return float(min(across - 2 * frame.side_gap, across * frame.usable - frame.side_gap))


def _fixed_part(blocks: Blocks, wiring: Wiring, frame: Frame) -> float:
    """Return what no choice of rows changes: set lengths, half ducts, runs to the hinge.

    Stubs are counted from the edge of the row; those of fixed blocks not at all.
    """
    total = 0.0
    half = float(np.min(frame.duct)) / 2
    for w in range(len(wiring.ends)):
        total += float(wiring.spans[w, 4])
        for end in (0, 1):
            block, side = int(wiring.ends[w, end]), int(wiring.ends[w, 2 + end])
            if 0 <= block < blocks.free:
                above = float(wiring.spans[w, 2 + end])
                total += half + (above if side else -above)
        a = int(wiring.ends[w, 0])
        if wiring.ends[w, 1] < 0 and a < blocks.free:
            left, right = _side_reach(a, blocks, frame)
            at = float(wiring.spans[w, 0])
            farthest_right = right - float(blocks.width[a]) + at
            total += max(0.0, left + at - frame.hinge_x, frame.hinge_x - farthest_right)
    return total


def _stubs(blocks: Blocks, wiring: Wiring) -> Floats:
    """Return how many wires leave each block upwards and downwards."""
    count = np.zeros((2, len(blocks.width)))
    for w in range(len(wiring.ends)):
        for end in (0, 1):
            if wiring.ends[w, end] >= 0:
                count[wiring.ends[w, 2 + end], wiring.ends[w, end]] += 1
    return count


def _add_rows(
    program: Program, inside: list[list[int]], blocks: Blocks, frame: Frame
) -> list[tuple[int, int, int]]:
    """Add above, below and high of each row; return their numbers."""
    rail = [i for i in range(blocks.free) if blocks.on_rail[i]]
    most = (
        max((float(blocks.up[i]) for i in rail), default=0.0),
        max((float(blocks.down[i]) for i in rail), default=0.0),
        float(_highest(blocks)),
    )
    found = []
    for r in range(frame.rows):
        above, below, high = (program.variable(most=m) for m in most)
        found.append((above, below, high))
        program.row([(high, 1.0), (above, -1.0), (below, -1.0)], 0.0)
        for i in range(blocks.free):
            here = inside[i][r]
            program.row([(high, 1.0), (here, -float(blocks.up[i] + blocks.down[i]))], 0.0)
            if blocks.on_rail[i]:
                program.row([(above, 1.0), (here, -float(blocks.up[i]))], 0.0)
                program.row([(below, 1.0), (here, -float(blocks.down[i]))], 0.0)
    return found


def _highest(blocks: Blocks) -> float:
    """Return how high a row can have to be."""
    free = slice(0, blocks.free)
    rail = blocks.on_rail[free] == 1
    up, down = blocks.up[free], blocks.down[free]
    together = float(np.max(up[rail]) + np.max(down[rail])) if np.any(rail) else 0.0
    return max(together, float(np.max(up + down)))


def _add_edges(
    program: Program,
    inside: list[list[int]],
    levels: list[tuple[int, int, int]],
    data: tuple[Blocks, Wiring, Frame],
) -> None:
    """Add up and down of each block."""
    blocks, wiring, frame = data
    stubs = _stubs(blocks, wiring)
    centred = frame.fixed == 0 and blocks.free == len(blocks.width)
    for i in range(blocks.free):
        least = (float(blocks.up[i]), float(blocks.down[i]))
        up, down = (program.variable(price=stubs[k, i], least=least[k]) for k in (0, 1))
        for r, (above, below, high) in enumerate(levels):
            here = inside[i][r]

            def when_here(
                terms: list[tuple[int, float]], always: float, asked: float, here: int = here
            ) -> None:
                """Ask for terms >= asked in this row; they are at least ``always`` elsewhere."""
                slack = max(0.0, asked - always)
                program.row([*terms, (here, -slack)], asked - slack)

            tallest = program.most[high]
            if not blocks.on_rail[i]:
                for edge, k in ((up, 0), (down, 1)):
                    start = least[k] - sum(least) / 2
                    when_here([(edge, 1.0), (high, -0.5)], least[k] - tallest / 2, start)
                continue
            when_here([(up, 1.0), (above, -1.0)], least[0] - program.most[above], 0.0)
            when_here([(down, 1.0), (below, -1.0)], least[1] - program.most[below], 0.0)
            when_here([(up, 1.0), (down, 1.0), (high, -1.0)], sum(least) - tallest, 0.0)
            if centred:
                for edge, near, far, k in ((up, above, below, 0), (down, below, above, 1)):
                    terms = [(edge, 1.0), (high, -0.5), (near, -0.5), (far, 0.5)]
                    always = least[k] - tallest / 2 - program.most[near] / 2
                    when_here(terms, always, -1.0)


def rows_bound(data: tuple[Blocks, Wiring, Frame], *, heights: bool, nodes: int) -> float | None:
    """Return a lower bound on the wire length of any legal plate in these rows, mm.

    ``heights``: whether rows' heights are told by the blocks in them, or by each wire's own
    blocks alone (a smaller program and bound). Infinite: no plate in these rows is legal. None:
    the solver proved nothing within ``nodes``.
    """
    blocks, wiring, frame = data
    rows, free = range(frame.rows), blocks.free
    program = Program()
    inside = [[program.variable(most=1.0, whole=True) for _ in rows] for _ in range(free)]
    for i in range(free):
        program.row([(inside[i][r], 1.0) for r in rows], 1.0, 1.0)
    for r in rows:
        widths = [(inside[i][r], float(blocks.width[i])) for i in range(free)]
        program.row(widths, 0.0, _room(frame))
    levels = _add_rows(program, inside, blocks, frame) if heights else []
    constant = _fixed_part(blocks, wiring, frame)
    if heights:
        _add_edges(program, inside, levels, data)
    else:
        stubs = _stubs(blocks, wiring)[:, :free]
        constant += float(np.sum(stubs * np.array([blocks.up[:free], blocks.down[:free]])))
    for (i, j), pair in _pairs(blocks, wiring, frame).items():
        _add_pair(program, (inside[i], inside[j]), pair, levels, _own_height(i, j, blocks))
    bound = program.lower_bound(nodes)
    return None if bound is None else bound + constant


def _own_height(i: int, j: int, blocks: Blocks) -> float:
    return float(max(blocks.up[i] + blocks.down[i], blocks.up[j] + blocks.down[j]))


def _add_pair(
    program: Program,
    inside: tuple[list[int], list[int]],
    pair: _Pair,
    levels: list[tuple[int, int, int]],
    own: float,
) -> None:
    """Add the variables of two blocks that are wired together (or of one, to itself)."""
    rows = range(len(inside[0]))
    if inside[0] == inside[1]:
        at = {(r, r): inside[0][r] for r in rows}
        for r in rows:
            program.price[inside[0][r]] += float(pair.run[r, r])
    else:
        at = {
            (r, s): program.variable(price=float(pair.run[r, s]), most=1.0)
            for r in rows
            for s in rows
        }
        for r in rows:
            program.row([*((at[r, s], 1.0) for s in rows), (inside[0][r], -1.0)], 0.0, 0.0)
            program.row([*((at[s, r], 1.0) for s in rows), (inside[1][r], -1.0)], 0.0, 0.0)
    if levels and np.any(np.diag(pair.changes) > 0.0):
        more = program.variable(price=1.0)
        for r in rows:
            wires, high = float(pair.changes[r, r]), levels[r][2]
            slack = max(0.0, wires * (program.most[high] - own))
            program.row([(more, 1.0), (high, -wires), (at[r, r], -slack)], -wires * own - slack)
