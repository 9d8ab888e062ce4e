"""Draw a random change of the sequence: two runs of tokens change places.

One of the runs may be empty: the other then moves there. Now and then the runs are whole rows:
a row of tall devices stands well at one height of the plate and badly at another, and device by
device it never gets there. Runs near a wired block, runs of as
much width, and bundles of blocks wired to each other are drawn more often than others, since
more of them are taken.
"""

from __future__ import annotations

from platewright.arrange.arrays import Blocks, Floats, Frame, Ints, Wiring
from platewright.foundation.compiled import lent
from platewright.foundation.random_bits import Bits, below

_STEP = 5.0  # mm by which room above a row grows or shrinks
ROOM = -1  # first place of a move that changed room above a row instead
NONE = -2  # first place of a move that cannot be made
# of a hundred moves, so many and the rest (runs to anywhere)
_ROOM = 6  # change room above a row, where something stands in the way
_ANY = 10  # two blocks change places
_BESIDE = 35  # to the side of a block wired to it
_NEAR = 55  # change places with one near a block wired to it
_MATCH = 78  # a bundle changes places with a run of its width near a wired block
_LOCAL = 95  # a run goes a few places on
_BUNDLE_BESIDE = 15  # of a hundred of those moves, so many take a bundle along
_BUNDLE = 30
_ROWS = 5  # of a thousand moves, so many take whole rows


@lent
def _turn(tokens: Ints, first: int, length: int) -> None:
    """Turn a run of tokens round."""
    for k in range(length // 2):
        other = first + length - 1 - k
        tokens[first + k], tokens[other] = tokens[other], tokens[first + k]


@lent
def exchange(tokens: Ints, i: int, one: int, j: int, two: int) -> None:
    """Let ``one`` tokens from place i and ``two`` from place j on change places; i + one <= j."""
    between = j - i - one
    _turn(tokens, i, one + between + two)  # all of it turned round, and each part once more
    _turn(tokens, i, two)
    _turn(tokens, i + two, between)
    _turn(tokens, i + two + between, one)


@lent
def _mate_of(b: int, at: Ints, wiring: Wiring, free: int, state: Bits) -> int:
    """Return the place of a random block wired to ``b``; -1 when there is none."""
    count = wiring.first[b + 1] - wiring.first[b]
    if count == 0:
        return -1
    mate = wiring.partner[wiring.first[b] + below(state, count)]
    if mate >= free:
        return -1
    return at[mate]


@lent
def _are_wired(a: int, b: int, wiring: Wiring) -> bool:
    """Tell whether a wire joins two blocks."""
    found = False
    for k in range(wiring.first[a], wiring.first[a + 1]):
        found = found or wiring.partner[k] == b
    return found


@lent
def _bundle(tokens: Ints, i: int, wiring: Wiring, free: int, state: Bits) -> tuple[int, int]:
    """Return a run about place i of blocks mostly wired to their neighbours: (first, length)."""
    most = 2 + below(state, 9)
    first, last = i, i
    while last + 1 < len(tokens) and last - first + 1 < most and tokens[last + 1] < free:
        if below(state, 8) >= (7 if _are_wired(tokens[last], tokens[last + 1], wiring) else 1):
            break
        last += 1
    while first > 0 and last - first + 1 < most and tokens[first - 1] < free:
        if below(state, 8) >= (7 if _are_wired(tokens[first - 1], tokens[first], wiring) else 1):
            break
        first -= 1
    return first, last - first + 1


@lent
def _as_wide(tokens: Ints, start: int, end: int, other: int, length: int, blocks: Blocks) -> int:
    """Return how many blocks from ``start`` on, ``end`` left out, are about as wide as a run."""
    want = 0.0
    for k in range(other, other + length):
        want += blocks.width[tokens[k]]
    has = 0.0
    count = 0
    while start + count < end and tokens[start + count] < blocks.free:
        more = blocks.width[tokens[start + count]]
        if abs(has + more - want) > abs(has - want):
            break
        has += more
        count += 1
    return count


@lent
def _row_first(tokens: Ints, i: int, free: int) -> int:
    """Return the first place of the row that place i lies in; its end counts as in it."""
    first = i
    while first > 0 and tokens[first - 1] < free:
        first -= 1
    return first


@lent
def _row_end(tokens: Ints, i: int, free: int) -> int:
    """Return where the row ends that place i lies in."""
    last = i
    while last < len(tokens) and tokens[last] < free:
        last += 1
    return last


@lent
def _whole_rows(tokens: Ints, free: int, state: Bits) -> tuple[int, int, int, int]:
    """Draw a row that goes above or below others, or changes places with one."""
    n = len(tokens)
    one, two = below(state, n), below(state, n)
    upper, lower = min(one, two), max(one, two)
    first, last = _row_first(tokens, upper, free), _row_end(tokens, upper, free)
    to_first, to_last = _row_first(tokens, lower, free), _row_end(tokens, lower, free)
    if to_first == first:
        return NONE, 0, 0, 0
    way = below(state, 3)
    if way == 0:  # the upper one goes below the lower one
        to_first = last + 1
    elif way == 1:  # the lower one goes above the upper one
        last = to_first - 1
    return first, last - first, to_first, to_last - to_first


@lent
def draw(
    tokens: Ints, extra: Floats, at: Ints, blocks: Blocks, wiring: Wiring, frame: Frame, state: Bits
) -> tuple[int, int, int, int]:
    """Draw a move: ``one`` tokens from place i, ``two`` from place j on: (i, one, j, two).

    i + one <= j. ``ROOM`` for i: room above a row was changed; ``NONE``: nothing to be done.
    """
    n = len(tokens)
    free = blocks.free
    if frame.rows > 1 and below(state, 1000) < _ROWS:
        return _whole_rows(tokens, free, state)
    kind = below(state, 100)
    if kind < _ROOM and frame.shifts == 1:
        r = below(state, frame.rows)
        step = _STEP * (1 + below(state, 8))
        extra[r] = max(0.0, extra[r] + (step if below(state, 2) == 0 else -step))
        return ROOM, 0, 0, 0
    i, j = below(state, n), -1
    one, two = 1, 1
    where = -1
    if _ANY <= kind < _MATCH and tokens[i] < free:
        where = _mate_of(tokens[i], at, wiring, free, state)
    if kind < _ANY:
        j = below(state, n)
    elif where >= 0 and kind < _BESIDE:
        if below(state, 100) < _BUNDLE_BESIDE:
            i, one = _bundle(tokens, i, wiring, free, state)
        j = where + below(state, 2)
        two = 0
    elif where >= 0 and kind < _NEAR:
        j = min(n - 1, max(0, where + below(state, 7) - 3))
    elif where >= 0:
        i, one = _bundle(tokens, i, wiring, free, state)
        j = min(n - 1, max(0, where + below(state, 9) - 4))
        two = _as_wide(tokens, j, n if j > i else i, i, one, blocks)
    else:
        one, two = min(1 + below(state, 4), n - i), 0
        if tokens[i] < free and below(state, 100) < _BUNDLE:
            i, one = _bundle(tokens, i, wiring, free, state)
        j = max(0, i + below(state, 17) - 8) if kind < _LOCAL else below(state, n)
        if j > i:
            j = min(n, j + one)
    if j < i:
        i, one, j, two = j, two, i, one
    if i + one > j or j + two > n or one + two == 0 or (i + one == j and one * two == 0):
        return NONE, 0, 0, 0
    return i, one, j, two
