"""Choose among full contents of a bar by trying all: exact, for lists that leave no rest at all.

The size with the fewest contents left is served first, its likeliest content before the others
(D. E. Knuth, Dancing links, 2000). No starting anew: what was tried is never tried again.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.fabricate.kernels.cover import FOUND, GIVEN_UP, IMPOSSIBLE
from platewright.fabricate.kernels.likely import Flags, Lists
from platewright.fabricate.kernels.reach import Ints
from platewright.foundation.compiled import compiled


@compiled
def exact_cut(
    of: Lists, demand: Ints, given: Flags, likely: NDArray[np.float64], most: int
) -> tuple[int, int, Ints]:
    """Return what came of it, the contents tried, and those chosen, out of the ``given`` ones.

    ``most``: contents tried before it gives up.
    """
    counts, is_open = demand.copy(), given.copy()
    choices = np.zeros(len(counts), np.int64)
    for p in range(len(is_open)):
        if is_open[p]:
            for at in range(of.start[p], of.start[p + 1]):
                choices[of.kind[at]] += 1
    struck, gone = np.zeros(len(is_open), np.int64), 0
    chosen, mark = np.zeros(np.sum(counts) + 1, np.int64), np.zeros(np.sum(counts) + 1, np.int64)
    level, tried, goes_on = 0, 0, True
    while True:
        if goes_on:
            scarcest, fewest = -1, len(is_open) + 1
            for k in range(len(counts)):
                if counts[k] > 0 and choices[k] < fewest:
                    scarcest, fewest = k, choices[k]
            if scarcest < 0:
                return FOUND, tried, chosen[:level].copy()
            take = -1
            for at in range(of.having[scarcest], of.having[scarcest + 1]):
                p = of.with_kind[at]
                if is_open[p] and (take < 0 or likely[p] > likely[take]):
                    take = p
            if take < 0:
                goes_on = False
                continue
            if tried == most:
                return GIVEN_UP, tried, chosen[:0].copy()
            tried += 1
            mark[level], chosen[level] = gone, take
            level += 1
            gone, goes_on = _serve(of, take, counts, is_open, choices, struck, gone)
        elif level == 0:
            return IMPOSSIBLE, tried, chosen[:0].copy()
        else:
            level -= 1
            gone = _give_back(
                of, chosen[level], counts, is_open, choices, struck, gone, mark[level]
            )
            gone, goes_on = _strike(of, chosen[level], counts, is_open, choices, struck, gone)


@compiled
def _serve(
    of: Lists, take: int, counts: Ints, is_open: Flags, choices: Ints, struck: Ints, gone: int
) -> tuple[int, bool]:
    """Take a content; return how many are struck out then, and if each size has a choice left."""
    goes_on = True
    for at in range(of.start[take], of.start[take + 1]):
        counts[of.kind[at]] -= of.much[at]
    for at in range(of.start[take], of.start[take + 1]):
        k = of.kind[at]
        for other in range(of.having[k], of.having[k + 1]):
            p = of.with_kind[other]
            if is_open[p] and of.with_much[other] > counts[k]:
                gone, can = _strike(of, p, counts, is_open, choices, struck, gone)
                goes_on = goes_on and can
    return gone, goes_on


@compiled
def _strike(
    of: Lists, p: int, counts: Ints, is_open: Flags, choices: Ints, struck: Ints, gone: int
) -> tuple[int, bool]:
    """Strike a content out; return the same."""
    is_open[p] = False
    struck[gone] = p
    goes_on = True
    for at in range(of.start[p], of.start[p + 1]):
        choices[of.kind[at]] -= 1
        if choices[of.kind[at]] == 0 and counts[of.kind[at]] > 0:
            goes_on = False
    return gone + 1, goes_on


@compiled
def _give_back(
    of: Lists, taken: int, counts: Ints, is_open: Flags, choices: Ints, struck: Ints, gone: int,
    to: int,
) -> int:  # fmt: skip
    """Undo a choice: what was struck out since counts again."""
    while gone > to:
        gone -= 1
        p = struck[gone]
        is_open[p] = True
        for at in range(of.start[p], of.start[p + 1]):
            choices[of.kind[at]] += 1
    for at in range(of.start[taken], of.start[taken + 1]):
        counts[of.kind[at]] += of.much[at]
    return to
