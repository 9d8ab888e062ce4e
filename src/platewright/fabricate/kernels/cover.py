"""Choose among given contents of a bar so that every piece is cut exactly once.

The size that is left the fewest contents is served first; a size that often led astray is served
sooner. What no longer fits the pieces, the waste or the number of bars left is struck out at
once, so the search often ends by itself: then it is proven that these contents can't do.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.fabricate.kernels.reach import Ints
from platewright.foundation.compiled import compiled
from platewright.foundation.random_bits import share

FOUND, IMPOSSIBLE, GIVEN_UP = 1, 0, -1


@compiled
def lists_of(contents: NDArray[np.int16]) -> tuple[Ints, Ints, Ints, Ints, Ints, Ints]:
    """Return what each content holds (from ``start``) and what holds each kind (``having``)."""
    many, n = contents.shape
    start = np.zeros(many + 1, np.int64)
    for p in range(many):
        start[p + 1] = start[p] + np.count_nonzero(contents[p])
    kind, much = np.zeros(start[many], np.int64), np.zeros(start[many], np.int64)
    having = np.zeros(n + 1, np.int64)
    for p in range(many):
        at = start[p]
        for k in range(n):
            if contents[p, k] > 0:
                kind[at], much[at] = k, contents[p, k]
                having[k + 1] += 1
                at += 1
    having = np.cumsum(having)
    with_kind, with_much = np.zeros(start[many], np.int64), np.zeros(start[many], np.int64)
    fill = having.copy()
    for p in range(many):
        for at in range(start[p], start[p + 1]):
            with_kind[fill[kind[at]]], with_much[fill[kind[at]]] = p, much[at]
            fill[kind[at]] += 1
    return start, kind, much, having, with_kind, with_much


@compiled
def cover(
    contents: NDArray[np.int16],
    waste: Ints,
    demand: Ints,
    bars: int,
    spare: int,
    tries: int,
    steps: int,
) -> tuple[int, Ints]:
    """Return what came of it, and the contents chosen, for exactly ``bars`` bars.

    ``waste``: of each content; ``spare``: the waste that all bars may have together. ``tries``:
    starts; ``steps``: contents chosen in each.
    """
    many, n = contents.shape
    start, kind, much, having, with_kind, with_much = lists_of(contents)
    pieces = np.zeros(many, np.int64)
    for p in range(many):
        pieces[p] = np.sum(much[start[p] : start[p + 1]])
    most_pieces = np.max(pieces) if many > 0 else 0

    counts, open_contents = demand.copy(), np.zeros(n, np.int64)
    is_open, by_pieces = np.ones(many, np.bool_), np.zeros(most_pieces + 1, np.int64)
    weight = np.ones(n)
    struck, chosen, mark = (
        np.zeros(many, np.int64),
        np.zeros(bars, np.int64),
        np.zeros(bars, np.int64),
    )
    liking = np.zeros(many)
    state = np.full(1, 88172645463325252, np.uint64)
    for attempt in range(tries):
        counts[:] = demand
        is_open[:] = True
        by_pieces[:] = 0
        for p in range(many):
            by_pieces[pieces[p]] += 1
            liking[p] = -pieces[p]
            if attempt > 0:
                liking[p] += (1.0 if attempt % 2 == 0 else 0.3) * (share(state))
        for k in range(n):
            open_contents[k] = having[k + 1] - having[k]
        gone, level, spent = 0, 0, 0
        left, free = np.sum(demand), spare
        goes_on = True
        while True:
            if goes_on:
                if left == 0:
                    return FOUND, chosen[:level].copy()
                spent += 1
                gone = _strike_hopeless(
                    is_open, by_pieces, open_contents, struck, gone, pieces, waste,
                    start, kind, bars - level, left, free,
                )  # fmt: skip
                best, least = -1, 1e18
                for k in range(n):
                    if counts[k] > 0:
                        need = open_contents[k] / weight[k] if open_contents[k] > 0 else -1.0
                        if need < least:
                            best, least = k, need
                if level == bars or open_contents[best] == 0:
                    weight[best] += 1.0
                    goes_on = False
                    continue
                take, liked = -1, -1e18
                for at in range(having[best], having[best + 1]):
                    p = with_kind[at]
                    if is_open[p] and liking[p] > liked:
                        take, liked = p, liking[p]
                mark[level], chosen[level] = gone, take
                free -= waste[take]
                for at in range(start[take], start[take + 1]):
                    counts[kind[at]] -= much[at]
                    left -= much[at]
                for at in range(start[take], start[take + 1]):
                    k = kind[at]
                    for other in range(having[k], having[k + 1]):
                        p = with_kind[other]
                        if is_open[p] and with_much[other] > counts[k]:
                            gone = _strike(
                                p, is_open, by_pieces, open_contents, struck, gone, pieces,
                                start, kind,
                            )  # fmt: skip
                level += 1
            else:
                if level == 0 or spent >= steps:
                    break
                level -= 1
                take = chosen[level]
                while gone > mark[level]:
                    gone -= 1
                    p = struck[gone]
                    is_open[p] = True
                    by_pieces[pieces[p]] += 1
                    for at in range(start[p], start[p + 1]):
                        open_contents[kind[at]] += 1
                free += waste[take]
                for at in range(start[take], start[take + 1]):
                    counts[kind[at]] += much[at]
                    left += much[at]
                # what was tried here is struck out for the rest of the level before
                gone = _strike(
                    take, is_open, by_pieces, open_contents, struck, gone, pieces, start, kind
                )
                goes_on = True
        if spent < steps:
            return IMPOSSIBLE, chosen[:0].copy()
    return GIVEN_UP, chosen[:0].copy()


@compiled
def _strike(
    p: int,
    is_open: NDArray[np.bool_],
    by_pieces: Ints,
    open_contents: Ints,
    struck: Ints,
    gone: int,
    pieces: Ints,
    start: Ints,
    kind: Ints,
) -> int:
    """Strike a content out; return how many are struck out then."""
    is_open[p] = False
    struck[gone] = p
    by_pieces[pieces[p]] -= 1
    for at in range(start[p], start[p + 1]):
        open_contents[kind[at]] -= 1
    return gone + 1


@compiled
def _strike_hopeless(
    is_open: NDArray[np.bool_],
    by_pieces: Ints,
    open_contents: Ints,
    struck: Ints,
    gone: int,
    pieces: Ints,
    waste: Ints,
    start: Ints,
    kind: Ints,
    bars: int,
    left: int,
    free: int,
) -> int:
    """Strike out what wastes too much, or leaves other bars too few or too many pieces."""
    while True:
        fewest, most = 0, len(by_pieces) - 1
        while fewest < most and by_pieces[fewest] == 0:
            fewest += 1
        while most > fewest and by_pieces[most] == 0:
            most -= 1
        high = left - (bars - 1) * fewest
        low = left - (bars - 1) * most
        before = gone
        for p in range(len(pieces)):
            if is_open[p] and (waste[p] > free or pieces[p] > high or pieces[p] < low):
                gone = _strike(
                    p, is_open, by_pieces, open_contents, struck, gone, pieces, start, kind
                )
        if gone == before:
            return gone
