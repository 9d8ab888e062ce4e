"""Bars without rest, chosen among their full contents: the likeliest choice first.

Contents without rest may be so scarce that hardly more than one cut exists. How likely each
content belongs to it can be estimated (``kernels/likely.py``); the likeliest is taken, or left
out. Followed next is what is likeliest to end well: the choices so far together, and less so the
more contents are still to be chosen among. Once few are left, all ways are tried.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import count
from math import log
from typing import Final

import numpy as np
import numpy.typing as npt

from platewright.fabricate.kernels.cover import FOUND, GIVEN_UP, IMPOSSIBLE
from platewright.fabricate.kernels.exact_cut import exact_cut
from platewright.fabricate.kernels.likely import (
    DEAD_END,
    NONE,
    Flags,
    Lists,
    Odds,
    estimate,
    linked,
    settle,
)
from platewright.fabricate.solvers.packing import Counts

ROUNDS: Final = 60  # of telling one another, at most
A_ROUND: Final = 4  # work of a round for each content, against one content looked at
FEW: Final = 1.9  # contents a size: with fewer, all ways are tried
LOOKS: Final = 18_000_000  # of one such try
PER_CONTENT: Final = 0.06  # how much unlikelier each content still open makes a good end (log)
PER_SIZE: Final = -0.066  # and each size not served yet: more of them, and contents are scarcer
FEWER: Final = 0.93  # share of contents left, before all ways are tried again
START: Final = 0.2  # odds at first
SURE: Final = 0.999  # nothing is likelier than this


@dataclass(order=True, slots=True)
class Branch:
    """What was chosen so far. What is likeliest to end well comes first, then the newest."""

    far: float
    newest: int
    unlikely: float = field(compare=False)  # below nothing: so many cuts may be expected (log)
    counts: Counts = field(compare=False)
    is_open: Flags = field(compare=False)
    odds: Odds = field(compare=False)
    taken: tuple[int, ...] = field(compare=False)
    try_below: float = field(compare=False)  # so many contents

    def settled(self, lists: Lists, take: int) -> bool:
        """Take a content (or none) and what that forces; tell whether every size can be cut."""
        taken = np.zeros(int(self.counts.sum()) + 1, dtype=np.int64)
        many = settle(lists, take, self.counts, self.is_open, taken)
        self.taken += tuple(taken[: max(0, many)].tolist())
        open_sizes = int((self.counts > 0).sum())
        self.far = (
            max(0.0, self.unlikely) + PER_CONTENT * int(self.is_open.sum()) + PER_SIZE * open_sizes
        )
        return many != DEAD_END


def likely_bars(
    contents: npt.NDArray[np.int16], demand: Counts, *, work: int
) -> tuple[int, Counts]:
    """Return what came of it, and the contents chosen; all contents must fill the bar.

    ``work``: contents looked at before it gives up.
    """
    lists, likely = linked(contents), np.zeros(len(contents))
    nothing, numbers, astray = demand[:0], count(1), np.ones(len(demand))
    first = Branch(
        0.0, 0, -cuts_expected(contents, demand), demand.copy(), np.ones(len(contents), dtype=np.bool_),
        np.full(len(lists.kind), START, dtype=np.float32), (), np.inf,
    )  # fmt: skip
    branches = [first] if first.settled(lists, NONE) else []
    while branches:
        if work <= 0:
            return GIVEN_UP, nothing
        branch = heapq.heappop(branches)
        if not branch.counts.any():
            return FOUND, np.array(branch.taken, dtype=np.int64)
        branch.odds = branch.odds.copy()  # both branches of a choice begin with the same
        rounds = estimate(lists, branch.counts, branch.is_open, branch.odds, ROUNDS, likely)
        left = int(branch.is_open.sum())
        work -= int(rounds * left * A_ROUND) + 1
        if left < min(branch.try_below, FEW * int((branch.counts > 0).sum())):
            outcome, looks, chosen = exact_cut(
                lists, branch.counts, branch.is_open, likely, astray, min(LOOKS, work)
            )
            work -= looks
            if outcome == FOUND:
                return FOUND, np.append(np.array(branch.taken, dtype=np.int64), chosen)
            if outcome == IMPOSSIBLE:
                continue
            branch.try_below = FEWER * left
        for each in _parted(branch, lists, likely, numbers):
            heapq.heappush(branches, each)
    return IMPOSSIBLE, nothing


def cuts_expected(contents: npt.NDArray[np.int16], demand: Counts) -> float:
    """Return the logarithm of how many cuts chance would leave among so many contents.

    Of n sizes in d contents of j pieces each: (n / j) (ln d - (j - 1)), by counting the ways to
    part the pieces and the share of them that the contents allow.
    """
    each = contents.sum() / max(1, len(contents))
    having = np.maximum(1, np.count_nonzero(contents, axis=0))
    return float((demand * (np.log(having) - (each - 1)) / each).sum())


def _parted(
    branch: Branch, lists: Lists, likely: npt.NDArray[np.float64], numbers: Iterator[int]
) -> Iterator[Branch]:
    """Yield the branches in which the likeliest content is taken, or left out; no dead ends."""
    best = int(likely.argmax())
    share = min(max(float(likely[best]), 1 - SURE), SURE)
    for take, chance in ((best, share), (NONE, 1 - share)):
        is_open = branch.is_open.copy()
        is_open[best] = take == best
        each = replace(
            branch,
            unlikely=branch.unlikely - log(chance),
            newest=-next(numbers),
            counts=branch.counts.copy(),
            is_open=is_open,
        )
        if each.settled(lists, take):
            yield each
