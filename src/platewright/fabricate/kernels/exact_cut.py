"""Choose among full contents of a bar by trying all: exact, for lists that leave no rest at all.

The size with the fewest contents left is served first, among equals the one that most often led
astray (F. Boussemart et al., Boosting systematic search by weighting constraints, ECAI 2004), its
likeliest content before the others. No starting anew: what was tried is never tried again.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from platewright.fabricate.kernels.cover import FOUND, GIVEN_UP, IMPOSSIBLE
from platewright.fabricate.kernels.likely import Amounts, Flags, Lists
from platewright.fabricate.kernels.reach import Ints
from platewright.foundation.compiled import compiled

Keys = NDArray[np.int32]  # of each size: contents left, then its rank; served sizes above all
Bits = NDArray[np.uint8]  # of each content: whether it can still be taken

PLACE: Final = 14  # bits of a rank: no list has more sizes
RANK: Final = (1 << PLACE) - 1
SERVED: Final = 1 << 30
RANK_ANEW: Final = 500  # contents tried before the sizes are ranked again


@compiled
def exact_cut(
    of: Lists,
    demand: Ints,
    given: Flags,
    likely: NDArray[np.float64],
    astray: NDArray[np.float64],
    most: int,
) -> tuple[int, int, Ints]:
    """Return what came of it, the work done, and the contents chosen, out of the ``given`` ones.

    ``astray``: how often each size was left no content; counts on. ``most``: work before it gives
    up, in contents looked at.
    """
    n, many = len(demand), len(given)
    depth = np.sum(demand) + 2
    chosen, before = np.zeros(depth, np.int64), np.zeros(depth, np.int64)
    depth = np.sum(demand) // max(1, _fewest_pieces(of)) + 2
    key, can = np.zeros((depth, n), np.int32), np.zeros((depth, many), np.uint8)
    left = np.zeros((depth, n), np.int16)
    can[0], left[0] = given, demand
    for k in range(n):
        for at in range(of.having[k], of.having[k + 1]):
            key[0, k] += np.int32(can[0, of.with_kind[at]]) << PLACE
        if demand[k] == 0:
            key[0, k] = SERVED
    ranked = _ranked(astray, key, 0)
    level, taken, work, tried = 0, 0, 0, 0
    while True:
        scarcest = _least(key[level])
        while scarcest >> PLACE == 1:  # an only content left is taken
            k = ranked[scarcest & RANK]
            at = of.having[k]
            while not can[level, of.with_kind[at]]:
                at += 1
            chosen[taken] = of.with_kind[at]
            work += _take(of, chosen[taken], key[level], can[level], left[level])
            taken += 1
            scarcest = _least(key[level])
        if scarcest >= SERVED:
            return FOUND, work, chosen[:taken].copy()
        k = ranked[scarcest & RANK]
        if scarcest >> PLACE == 0:
            astray[k] += 1.0
            if level == 0:
                return IMPOSSIBLE, work, chosen[:0].copy()
            level -= 1
            taken = before[level]
            continue
        if work >= most:
            return GIVEN_UP, work, chosen[:0].copy()
        tried += 1
        if tried % RANK_ANEW == 0:
            ranked = _ranked(astray, key, level)
            k = ranked[_least(key[level]) & RANK]
        take = np.int64(-1)
        for at in range(of.having[k], of.having[k + 1]):
            p = np.int64(of.with_kind[at])
            if can[level, p] and (take < 0 or likely[p] > likely[take]):
                take = p
        key[level + 1], can[level + 1], left[level + 1] = key[level], can[level], left[level]
        # once it comes back here, it was tried
        can[level, take] = 0
        for at in range(of.start[take], of.start[take + 1]):
            key[level, of.kind[at]] -= 1 << PLACE
        chosen[taken], before[level] = take, taken
        taken += 1
        level += 1
        work += _take(of, take, key[level], can[level], left[level])


@compiled
def _fewest_pieces(of: Lists) -> int:
    """Return the fewest pieces of a content."""
    fewest = len(of.kind)
    for p in range(len(of.start) - 1):
        fewest = min(fewest, int(np.sum(of.much[of.start[p] : of.start[p + 1]])))
    return fewest


@compiled
def _least(key: Keys) -> int:
    """Return the least key."""
    least = key[0]
    for each in key:
        least = min(least, each)
    return int(least)


@compiled
def _ranked(astray: NDArray[np.float64], key: Keys, level: int) -> Ints:
    """Write the rank of each size into the keys up to a level; return the sizes in that order."""
    ranked = np.argsort(-astray, kind="mergesort")
    for rank in range(len(ranked)):
        k = ranked[rank]
        for each in range(level + 1):
            key[each, k] = (key[each, k] & ~RANK) | rank
    return ranked


@compiled
def _take(of: Lists, take: int, key: Keys, can: Bits, left: Amounts) -> int:
    """Take a content; return the work that was."""
    work = 0
    for at in range(of.start[take], of.start[take + 1]):
        k = of.kind[at]
        now = left[k] - of.much[at]
        left[k] = now
        if now == 0:
            key[k] += SERVED
        work += of.having[k + 1] - of.having[k]
        # without branches: a content that is gone, or stays, is taken off its sizes no times
        for other in range(of.having[k], of.having[k + 1]):
            p = of.with_kind[other]
            goes = can[p] & np.uint8(of.with_much[other] > now)
            can[p] ^= goes
            off = np.int32(goes) << PLACE
            for each in range(of.start[p], of.start[p + 1]):
                key[of.kind[each]] -= off
    return work
