"""Bars without rest, chosen among their full contents: the likeliest choice first.

Contents without rest may be so scarce that hardly more than one cut exists. How likely each
content belongs to it can be estimated (``kernels/likely.py``); the likeliest is taken, or left
out, and whichever choices so far are likeliest together are followed next. Once few contents are
left, all ways are tried.
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
A_ROUND: Final = 1 / 20  # work of a round for each content, against one content tried
FEW: Final = 1.7  # contents a size: with fewer, all ways are tried
TRIALS: Final = 30_000  # of one such try
FEWER: Final = 0.93  # share of contents left, before all ways are tried again
START: Final = 0.2  # odds at first
SURE: Final = 0.999  # nothing is likelier than this


@dataclass(order=True, slots=True)
class Branch:
    """What was chosen so far. The likeliest come first, then the newest."""

    unlikely: float
    newest: int
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
        return many != DEAD_END


def likely_bars(
    contents: npt.NDArray[np.int16], demand: Counts, *, work: int
) -> tuple[int, Counts]:
    """Return what came of it, and the contents chosen; all contents must fill the bar.

    ``work``: contents tried before it gives up.
    """
    lists, likely = linked(contents), np.zeros(len(contents))
    nothing, numbers = demand[:0], count(1)
    first = Branch(
        0.0, 0, demand.copy(), np.ones(len(contents), dtype=np.bool_),
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
            outcome, tried, chosen = exact_cut(lists, branch.counts, branch.is_open, likely, TRIALS)
            work -= tried
            if outcome == FOUND:
                return FOUND, np.append(np.array(branch.taken, dtype=np.int64), chosen)
            if outcome == IMPOSSIBLE:
                continue
            branch.try_below = FEWER * left
        for each in _parted(branch, lists, likely, numbers):
            heapq.heappush(branches, each)
    return IMPOSSIBLE, nothing


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
