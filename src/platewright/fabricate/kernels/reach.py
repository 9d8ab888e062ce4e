"""Which lengths pieces can add up to, as bits; and every content that nearly fills a room.

A set of lengths is a row of 64-bit words: bit ``v`` is set when the length ``v`` can be made.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.compiled import compiled
from platewright.foundation.random_bits import next_bits

Ints = NDArray[np.int64]
Words = NDArray[np.uint64]


@compiled
def add_piece(without: Words, lengths: Words, size: int) -> None:
    """Set ``lengths`` to what can be made without the piece, or with it on top of ``lengths``."""
    skip, low = size >> 6, size & 63
    for at in range(len(lengths) - 1, -1, -1):
        moved = np.uint64(0)
        if at >= skip:
            moved = lengths[at - skip] << np.uint64(low)
            if low > 0 and at > skip:
                moved |= lengths[at - skip - 1] >> np.uint64(64 - low)
        lengths[at] = without[at] | moved


@compiled
def has_between(lengths: Words, least: int, most: int) -> bool:
    """Tell whether any length from ``least`` to ``most`` can be made."""
    if most < 0:
        return False
    low = max(least, 0)
    first = ~np.uint64(0) << np.uint64(low & 63)
    last = ~np.uint64(0) >> np.uint64(63 - (most & 63))
    start, end = low >> 6, most >> 6
    if start == end:
        return (lengths[start] & first & last) != np.uint64(0)
    if (lengths[start] & first) != np.uint64(0) or (lengths[end] & last) != np.uint64(0):
        return True
    for at in range(start + 1, end):
        if lengths[at] != np.uint64(0):
            return True
    return False


@compiled
def longest(lengths: Words, most: int) -> int:
    """Return the greatest length of at most ``most`` that can be made (nothing is always one)."""
    for value in range(most, 0, -1):
        if (lengths[value >> 6] >> np.uint64(value & 63)) & np.uint64(1):
            return value
    return 0


@compiled
def lengths_of(sizes: Ints, counts: Ints, kinds: Ints, n: int, first: int, reach: Words) -> None:
    """Fill ``reach[k]`` with what pieces of ``kinds[k:n]`` can add up to; ``first`` less of kind 0.

    ``reach``: at least ``n + 1`` rows.
    """
    reach[n, :] = 0
    reach[n, 0] = 1
    for k in range(n - 1, -1, -1):
        reach[k, :] = reach[k + 1]
        for _ in range(counts[kinds[k]] - (first if k == 0 else 0)):
            add_piece(reach[k + 1], reach[k], sizes[kinds[k]])


@compiled
def contents_from(
    sizes: Ints,
    counts: Ints,
    kinds: Ints,
    begin: int,
    n: int,
    room: int,
    waste: int,
    reach: Words,
    found: NDArray[np.int16],
    got: int,
    skip: int,
    state: Words,
    steps: int,
    pieces: int,
) -> tuple[int, int]:
    """Write contents with one piece of ``kinds[begin]`` and else later kinds into ``found``.

    Each leaves at most ``waste`` of ``room``; those of long pieces come first. ``pieces``: how
    many pieces it must have, 0 for any number. ``got``: rows written before. ``skip``: of a hundred chances, how many to pass over a kind by chance.
    Returns the rows then written and the steps left of ``steps``: there may be more contents
    when ``found`` is full or no step is left. ``counts`` is left as it was.
    """
    most = len(found)
    pick = np.zeros(room // sizes[kinds[n - 1]] + 2, np.int64)
    counts[kinds[begin]] -= 1
    room -= sizes[kinds[begin]]
    depth, at = 0, begin
    if room < 0:
        at = n
    while got < most and steps > 0:
        steps -= 1
        goes_on = False
        if pieces > 0 and depth + 1 == pieces:
            at = n
        while at < n and has_between(reach[at], room - waste, room):
            kind = kinds[at]
            left = room - sizes[kind]
            if counts[kind] > 0 and has_between(reach[at], left - waste, left):
                if skip == 0 or depth > 1 or next_bits(state) % np.uint64(100) >= np.uint64(skip):
                    goes_on = True
                    break
            at += 1
        if goes_on:
            pick[depth] = at
            depth += 1
            counts[kinds[at]] -= 1
            room -= sizes[kinds[at]]
            continue
        if 0 <= room <= waste and (pieces == 0 or depth + 1 == pieces):
            found[got, :] = 0
            found[got, kinds[begin]] += 1
            for d in range(depth):
                found[got, kinds[pick[d]]] += 1
            got += 1
        if depth == 0:
            break
        depth -= 1
        at = pick[depth]
        counts[kinds[at]] += 1
        room += sizes[kinds[at]]
        at += 1
    while depth > 0:
        depth -= 1
        counts[kinds[pick[depth]]] += 1
    counts[kinds[begin]] += 1
    return got, steps


@compiled
def full_contents(
    sizes: Ints,
    counts: Ints,
    capacity: int,
    waste: int,
    found: NDArray[np.int16],
    steps: int,
    pieces: int = 0,
) -> tuple[int, bool]:
    """Write contents of a bar that leave at most ``waste``; return how many, and if that is all.

    Not all when ``found`` is full, or so many steps were not enough. ``pieces``: how many pieces
    a content must have, 0 for any number.
    """
    n = len(sizes)
    kinds = np.arange(n)
    reach = np.zeros((n + 1, (capacity >> 6) + 1), np.uint64)
    lengths_of(sizes, counts, kinds, n, 0, reach)
    state = np.ones(1, np.uint64)
    got = 0
    for begin in range(n):
        if not has_between(reach[begin], capacity - waste, capacity):
            break
        got, steps = contents_from(
            sizes, counts, kinds, begin, n, capacity, waste, reach, found, got, 0, state, steps,
            pieces,
        )  # fmt: skip
        if got == len(found) or steps == 0:
            return got, False
    return got, True
