"""Choose among full contents of a bar by looking ahead: exact, for lists that leave no rest at all.

Before each choice every content is taken on trial; what that forces is followed, and a content
that leads to a size nobody can cut any more is struck out. Dearer a step than ``cover``, and far
fewer steps where full contents are so scarce that hardly more than one cut exists.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.fabricate.kernels.cover import FOUND, GIVEN_UP, IMPOSSIBLE, lists_of
from platewright.fabricate.kernels.reach import Ints
from platewright.foundation.compiled import compiled

Flags = NDArray[np.bool_]
FORCED = 0.03  # how much less a content counts as a choice for each thing that it forces


@compiled
def look_ahead(contents: NDArray[np.int16], demand: Ints, trials: int) -> tuple[int, Ints]:
    """Return what came of it and the contents chosen; all contents must fill the bar.

    ``trials``: contents taken on trial before it gives up.
    """
    many, n = contents.shape
    start, kind, much, having, with_kind, with_much = lists_of(contents)
    counts = demand.copy()
    open_contents = having[1:] - having[:-1]
    is_open = np.ones(many, np.bool_)
    # what was done, newest last: p for a content struck out, -1 - p for one taken
    done = np.zeros(many + np.sum(demand) + 1, np.int64)
    waiting = np.zeros(4 * len(kind) + n + 1, np.int64)
    mark, tried = np.zeros(np.sum(demand) + 1, np.int64), np.zeros(np.sum(demand) + 1, np.int64)
    forced = np.zeros(many, np.int64)
    so_far, level, spent = 0, 0, 0
    waiting[:n] = np.arange(n)
    so_far, goes_on = _follow(
        done, so_far, is_open, open_contents, counts, start, kind, much, having, with_kind,
        with_much, waiting, n,
    )  # fmt: skip
    if not goes_on:
        return IMPOSSIBLE, done[:0].copy()
    while True:
        if goes_on:
            is_new = True
            while is_new and goes_on:
                is_new = False
                for p in range(many):
                    if not is_open[p]:
                        continue
                    spent += 1
                    before = so_far
                    so_far, can = _try(
                        p, done, so_far, is_open, open_contents, counts, start, kind, much,
                        having, with_kind, with_much, waiting,
                    )  # fmt: skip
                    forced[p] = so_far - before
                    so_far = _undo(
                        before, done, so_far, is_open, open_contents, counts, start, kind, much
                    )
                    if not can:
                        is_new = True
                        so_far, goes_on = _exclude(
                            p, done, so_far, is_open, open_contents, counts, start, kind, much,
                            having, with_kind, with_much, waiting,
                        )  # fmt: skip
                        if not goes_on:
                            break
            if spent > trials:
                return GIVEN_UP, done[:0].copy()
        if goes_on:
            best, least = -1, 1e18
            for k in range(n):
                if counts[k] > 0:
                    choices = 0.0
                    for at in range(having[k], having[k + 1]):
                        if is_open[with_kind[at]]:
                            choices += np.exp(-FORCED * forced[with_kind[at]])
                    if choices < least:
                        best, least = k, choices
            if best < 0:
                taken = np.array([-1 - p for p in done[:so_far] if p < 0], dtype=np.int64)
                return FOUND, taken
            take = -1
            for at in range(having[best], having[best + 1]):
                p = with_kind[at]
                if is_open[p] and (take < 0 or forced[p] < forced[take]):
                    take = p
            if take < 0:
                goes_on = False
                continue
            mark[level], tried[level] = so_far, take
            level += 1
            so_far, goes_on = _try(
                take, done, so_far, is_open, open_contents, counts, start, kind, much, having,
                with_kind, with_much, waiting,
            )  # fmt: skip
        else:
            if level == 0:
                return IMPOSSIBLE, done[:0].copy()
            level -= 1
            so_far = _undo(
                mark[level], done, so_far, is_open, open_contents, counts, start, kind, much
            )
            so_far, goes_on = _exclude(
                tried[level], done, so_far, is_open, open_contents, counts, start, kind, much,
                having, with_kind, with_much, waiting,
            )  # fmt: skip


@compiled
def _take(
    p: int, done: Ints, so_far: int, is_open: Flags, open_contents: Ints, counts: Ints, start: Ints,
    kind: Ints, much: Ints, having: Ints, with_kind: Ints, with_much: Ints, waiting: Ints, many: int,
) -> tuple[int, int]:  # fmt: skip
    """Take a content; sizes left one content or none wait to be followed."""
    done[so_far] = -1 - p
    so_far += 1
    for at in range(start[p], start[p + 1]):
        counts[kind[at]] -= much[at]
    for at in range(start[p], start[p + 1]):
        k = kind[at]
        for other in range(having[k], having[k + 1]):
            q = with_kind[other]
            if is_open[q] and with_much[other] > counts[k]:
                is_open[q] = False
                done[so_far] = q
                so_far += 1
                for each in range(start[q], start[q + 1]):
                    open_contents[kind[each]] -= 1
                    if open_contents[kind[each]] <= 1 and many < len(waiting):
                        waiting[many] = kind[each]
                        many += 1
    return so_far, many


@compiled
def _follow(
    done: Ints, so_far: int, is_open: Flags, open_contents: Ints, counts: Ints, start: Ints,
    kind: Ints, much: Ints, having: Ints, with_kind: Ints, with_much: Ints, waiting: Ints, many: int,
) -> tuple[int, bool]:  # fmt: skip
    """Take what the waiting sizes force; tell whether every size can still be cut."""
    first = 0
    while first < many:
        k = waiting[first]
        first += 1
        while counts[k] > 0 and open_contents[k] <= 1:
            if open_contents[k] == 0:
                return so_far, False
            at = having[k]
            while not is_open[with_kind[at]]:
                at += 1
            so_far, many = _take(
                with_kind[at], done, so_far, is_open, open_contents, counts, start, kind, much,
                having, with_kind, with_much, waiting, many,
            )  # fmt: skip
    return so_far, True


@compiled
def _try(
    p: int, done: Ints, so_far: int, is_open: Flags, open_contents: Ints, counts: Ints, start: Ints,
    kind: Ints, much: Ints, having: Ints, with_kind: Ints, with_much: Ints, waiting: Ints,
) -> tuple[int, bool]:  # fmt: skip
    """Take a content and what it forces."""
    so_far, many = _take(
        p, done, so_far, is_open, open_contents, counts, start, kind, much, having, with_kind,
        with_much, waiting, 0,
    )  # fmt: skip
    return _follow(
        done, so_far, is_open, open_contents, counts, start, kind, much, having, with_kind,
        with_much, waiting, many,
    )  # fmt: skip


@compiled
def _exclude(
    p: int, done: Ints, so_far: int, is_open: Flags, open_contents: Ints, counts: Ints, start: Ints,
    kind: Ints, much: Ints, having: Ints, with_kind: Ints, with_much: Ints, waiting: Ints,
) -> tuple[int, bool]:  # fmt: skip
    """Strike a content out and follow what that forces."""
    is_open[p] = False
    done[so_far] = p
    so_far += 1
    many = 0
    for at in range(start[p], start[p + 1]):
        open_contents[kind[at]] -= 1
        waiting[many] = kind[at]
        many += 1
    return _follow(
        done, so_far, is_open, open_contents, counts, start, kind, much, having, with_kind,
        with_much, waiting, many,
    )  # fmt: skip


@compiled
def _undo(
    to: int, done: Ints, so_far: int, is_open: Flags, open_contents: Ints, counts: Ints, start: Ints,
    kind: Ints, much: Ints,
) -> int:  # fmt: skip
    """Undo what was done last, down to ``to`` entries."""
    while so_far > to:
        so_far -= 1
        p = done[so_far]
        if p >= 0:
            is_open[p] = True
            for at in range(start[p], start[p + 1]):
                open_contents[kind[at]] += 1
        else:
            for at in range(start[-1 - p], start[-p]):
                counts[kind[at]] += much[at]
    return so_far
