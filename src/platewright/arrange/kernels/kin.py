"""Let devices of a kind change places, each with what is wired to it.

A panel holds many of a kind, and what belongs to one of them (a starter's contactor, overload
and terminals) stands in several rows. One by one they can't move: each would tear wires that the
next one mends. So a block and one of its kin, of the same height and about the same width, change
places, and with them the blocks that are tied to both in the same way, as far as a random number
says. Where all of them are twins, nothing else on the plate moves.
"""

from __future__ import annotations

from typing import NamedTuple

from platewright.arrange.arrays import Blocks, Frame, Ints, Placed, RowSums, Wiring
from platewright.arrange.kernels.guess import OFF, behind
from platewright.foundation.compiled import lent
from platewright.foundation.random_bits import Bits, below

MOST_PAIRS = 6  # that change places at once
_TIED = 2  # wires that make a block go along
_TRIES = 4  # kin drawn, to take the one that stands nearest to a block wired to the first
_STEEP = 2.0  # mm across that a mm up or down is worth when they are compared
_WIDER = 1.25  # times as wide as its kin a block may be


class Kins(NamedTuple):
    """Who is whose kin or twin, and who is tied to whom; of free blocks only."""

    head: Ints  # (free,) the first block of each one's kin
    # (2 free,) the kin of head h are in ``kin`` from first[h] to first[free + h], left out
    first: Ints
    kin: Ints  # (free,)
    twin: Ints  # (free,) the first block of each one's twins
    tied_first: Ints  # (free+1,) slices of ``tied``: those tied to each block
    tied: Ints  # as long as the wiring's partners


@lent
def _are_kin(a: int, b: int, blocks: Blocks) -> bool:
    """Tell whether two blocks stand in rows alike."""
    return (
        blocks.on_rail[a] == blocks.on_rail[b]
        and blocks.groups[a] == blocks.groups[b]
        and blocks.up[a] == blocks.up[b]
        and blocks.down[a] == blocks.down[b]
        and max(blocks.width[a], blocks.width[b]) <= _WIDER * min(blocks.width[a], blocks.width[b])
    )


@lent
def _are_twins(a: int, b: int, blocks: Blocks) -> bool:
    """Tell whether two of a kin can change places without anything else noticing."""
    return (
        blocks.width[a] == blocks.width[b]
        and blocks.clear_left[a] == blocks.clear_left[b]
        and blocks.clear_right[a] == blocks.clear_right[b]
        and blocks.env_up[a] == blocks.env_up[b]
        and blocks.env_down[a] == blocks.env_down[b]
        and blocks.front[a] == blocks.front[b]
    )


@lent
def _tell_twins(blocks: Blocks, start: int, end: int, kin: Ints, twin: Ints) -> None:
    """Tell the twins among the blocks of one kin."""
    for k in range(start, end):
        twin[kin[k]] = kin[k]
        for q in range(start, k):
            if _are_twins(kin[q], kin[k], blocks):
                twin[kin[k]] = kin[q]
                break


@lent
def _tell_tied(free: int, wiring: Wiring, tied_first: Ints, tied: Ints) -> None:
    """List who is tied to each free block, in the order of their first wires."""
    count = 0
    for a in range(free):
        tied_first[a] = count
        for k in range(wiring.first[a], wiring.first[a + 1]):
            mate = wiring.partner[k]
            known = mate >= free or mate == a
            for q in range(tied_first[a], count):
                known = known or tied[q] == mate
            if not known and _are_tied(a, mate, wiring):
                tied[count] = mate
                count += 1
    tied_first[free] = count


@lent
def tell_kin(blocks: Blocks, wiring: Wiring, kins: Kins) -> bool:
    """Fill in who is kin, twin and tied; tell whether any two are kin."""
    head, first, kin = kins.head, kins.first, kins.kin
    free = blocks.free
    count = 0
    found = False
    for a in range(free):
        head[a] = -1
    for a in range(free):
        if head[a] >= 0:
            continue
        first[a] = count
        for b in range(a, free):
            if head[b] < 0 and _are_kin(a, b, blocks):
                head[b] = a
                kin[count] = b
                count += 1
        first[free + a] = count
        found = found or count - first[a] > 1
        _tell_twins(blocks, first[a], count, kin, kins.twin)
    _tell_tied(free, wiring, kins.tied_first, kins.tied)
    return found


@lent
def _is_in(b: int, pairs: Ints, count: int) -> bool:
    """Tell whether a block is in one of the pairs."""
    found = False
    for k in range(2 * count):
        found = found or pairs[k] == b
    return found


@lent
def _are_tied(a: int, b: int, wiring: Wiring) -> bool:
    """Tell whether enough wires join two blocks for one to go along with the other."""
    count = 0
    for k in range(wiring.first[a], wiring.first[a + 1]):
        count += wiring.partner[k] == b
    return count >= _TIED


@lent
def _apart(a: int, b: int, placed: Placed) -> float:
    """Return roughly how far two blocks are from each other, mm."""
    return abs(placed.x[a] - placed.x[b]) + _STEEP * abs(placed.ref[a] - placed.ref[b])


@lent
def _kin_of(
    a: int, members: tuple[int, int], kin: Ints, wiring: Wiring, placed: Placed, state: Bits
) -> int:
    """Draw one of a block's kin, rather one that stands where the block is wired to."""
    start, end = members
    b = kin[start + below(state, end - start)]
    ways = wiring.first[a + 1] - wiring.first[a]
    if ways > 0:
        mate = wiring.partner[wiring.first[a] + below(state, ways)]
        apart = _apart(b, mate, placed)
        for _ in range(_TRIES - 1):
            other = kin[start + below(state, end - start)]
            far = _apart(other, mate, placed)
            if far < apart and other != a:
                b, apart = other, far
    return b


@lent
def _like(mate: int, b: int, kins: Kins, pairs: Ints, count: int) -> int:
    """Return one of ``mate``'s kin that is tied to ``b`` and in no pair yet; -1: there is none."""
    for k in range(kins.tied_first[b], kins.tied_first[b + 1]):
        other = kins.tied[k]
        if (
            other != mate
            and kins.head[other] == kins.head[mate]
            and not _is_in(other, pairs, count)
        ):
            return other
    return -1


@lent
def draw_kin(
    free: int, wiring: Wiring, placed: Placed, kins: Kins, pairs: Ints, state: Bits
) -> int:
    """Draw two of a kin, and pairs that go along; fill ``pairs``, return their number; 0: none."""
    a = below(state, free)
    members = (kins.first[kins.head[a]], kins.first[free + kins.head[a]])
    if members[1] - members[0] < 2:
        return 0
    pairs[0] = a
    pairs[1] = _kin_of(a, members, kins.kin, wiring, placed, state)
    if pairs[1] == a:
        return 0
    count, most = 1, 1 + below(state, MOST_PAIRS)
    k = 0
    while k < count < most:
        one, two = pairs[2 * k], pairs[2 * k + 1]
        for p in range(kins.tied_first[one], kins.tied_first[one + 1]):
            mate = kins.tied[p]
            if count >= most:
                break
            if _is_in(mate, pairs, count):
                continue
            other = _like(mate, two, kins, pairs, count)
            if other >= 0:
                pairs[2 * count], pairs[2 * count + 1] = mate, other
                count += 1
        k += 1
    return count


@lent
def all_twins(pairs: Ints, count: int, twin: Ints) -> bool:
    """Tell whether pairs can change places without anything else noticing."""
    found = True
    for k in range(count):
        found = found and twin[pairs[2 * k]] == twin[pairs[2 * k + 1]]
    return found


@lent
def put_kin(
    pairs: Ints, count: int, blocks: Blocks, old: Placed, new: Placed, moved: Ints
) -> tuple[float, int]:
    """Let pairs change places in ``new``: (what that costs but for wires, blocks moved)."""
    cost = 0.0
    for k in range(2 * count):
        b = pairs[k]
        other = pairs[k + 1] if k % 2 == 0 else pairs[k - 1]
        moved[k] = b
        new.x[b], new.ref[b], new.row[b] = old.x[other], old.ref[other], old.row[other]
        cost += blocks.pull[b] * (new.ref[b] - old.ref[b])
        cost += blocks.draw[b] * (new.x[b] - old.x[b])
    return cost, 2 * count


@lent
def aside(
    pairs: Ints, count: int, tokens: Ints, at: Ints, blocks: Blocks, frame: Frame, old: Placed,
    sums: RowSums,
) -> float:  # fmt: skip
    """Guess the least that it costs what stands beside pairs of different widths to move aside."""
    cost = 0.0
    for k in range(count):
        a, b = pairs[2 * k], pairs[2 * k + 1]
        wider = blocks.width[a] - blocks.width[b]
        if wider != 0.0:
            more = behind(tokens, at[b] + 1, sums.ends[old.row[b]], sums.slope)
            more -= behind(tokens, at[a] + 1, sums.ends[old.row[a]], sums.slope)
            cost += wider * more - OFF * abs(wider)
    return frame.w_wire * cost


@lent
def swap_kin(tokens: Ints, at: Ints, pairs: Ints, count: int) -> None:
    """Let pairs change places in the sequence. ``at``: where each block stands in it."""
    for k in range(count):
        i, j = at[pairs[2 * k]], at[pairs[2 * k + 1]]
        tokens[i], tokens[j] = tokens[j], tokens[i]


@lent
def rows_of(pairs: Ints, count: int, placed: Placed, rows: Ints) -> int:
    """List the rows that pairs stand in; return their number."""
    number = 0
    for k in range(2 * count):
        row = placed.row[pairs[k]]
        known = False
        for q in range(number):
            known = known or rows[q] == row
        if not known:
            rows[number] = row
            number += 1
    return number
