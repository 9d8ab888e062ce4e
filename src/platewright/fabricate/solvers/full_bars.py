"""Bars where little may be wasted: filled one by one, or chosen among all nearly full contents.

When the pieces are nearly as long as the bars together, each bar must be nearly full. Where
full contents abound, filling bars one after the other finds the cut; where they are scarce, all
of them can be listed, and choosing among them finds the cut or proves that there is none.
"""

from __future__ import annotations

from typing import Final

import numpy as np
import numpy.typing as npt

from platewright.fabricate.kernels.bar_by_bar import bar_by_bar
from platewright.fabricate.kernels.cover import FOUND, GIVEN_UP, IMPOSSIBLE, cover
from platewright.fabricate.kernels.look_ahead import look_ahead
from platewright.fabricate.kernels.reach import full_contents
from platewright.fabricate.solvers.packing import Counts, Packed, Packing

WORK: Final = 40_000_000  # words of lengths touched by one filling: a part of a second
MOST_STARTS: Final = 60
STEPS: Final = 60
SLACK: Final = 200  # every second start lets a bar waste this part of the room more
MOST_CONTENTS: Final = 12_000
LISTING_STEPS: Final = 400_000
COVER_STARTS: Final = 24
QUICK: Final = 40_000_000  # contents looked at in choosing: a small part of a second
THOROUGH: Final = 300_000_000
TRIALS_SHARE: Final = 200  # contents looked at for each one taken on trial


def fill_bars(problem: Packing, bars: int) -> list[Counts] | None:
    """Return at most so many bars, filled one by one; ``None``: none were found."""
    pieces, words = int(problem.demand.sum()), (problem.capacity >> 6) + 1
    starts = min(MOST_STARTS, WORK // (pieces * words * (bars + STEPS)))
    if starts == 0:
        return None
    slack = max(1, problem.capacity // SLACK)
    found = bar_by_bar(
        problem.sizes, problem.demand, problem.capacity, bars, starts, bars + STEPS, slack
    )
    return [content.astype(np.int64) for content in found] or None


def choose_full(problem: Packing, packed: Packed, *, work: int) -> Packed:
    """Return bars as many as the bound, or a higher bound, where full contents are scarce.

    ``work``: contents looked at before it gives up.
    """
    while not packed.is_proven:
        spare = packed.bound * problem.capacity - int(problem.sizes @ problem.demand)
        found = np.zeros((MOST_CONTENTS, len(problem.sizes)), dtype=np.int16)
        waste = min(spare, problem.capacity)
        many, is_all = full_contents(
            problem.sizes, problem.demand, problem.capacity, waste, found, LISTING_STEPS
        )
        if not is_all:
            return packed
        contents = _possible(found[:many], problem, packed.bound)
        steps = work // (COVER_STARTS * (len(contents) + 1))
        wasted = problem.capacity - contents.astype(np.int64) @ problem.sizes
        outcome, chosen = cover(
            contents, wasted, problem.demand, packed.bound, spare, COVER_STARTS, steps
        )
        if outcome == GIVEN_UP and spare == 0:
            outcome, chosen = look_ahead(contents, problem.demand, work // TRIALS_SHARE)
        if outcome == FOUND:
            bars = tuple(contents[at].astype(np.int64) for at in chosen)
            return Packed(bars=bars, bound=packed.bound)
        if outcome != IMPOSSIBLE:
            return packed
        packed = Packed(bars=packed.bars, bound=packed.bound + 1)
    return packed


def _possible(
    contents: npt.NDArray[np.int16], problem: Packing, bars: int
) -> npt.NDArray[np.int16]:
    """Return the contents that leave the other bars neither too few nor too many pieces."""
    total = int(problem.demand.sum())
    while len(contents):
        pieces = contents.sum(axis=1, dtype=np.int64)
        most = total - (bars - 1) * int(pieces.min())
        fewest = total - (bars - 1) * int(pieces.max())
        kept = (pieces <= most) & (pieces >= fewest)
        if kept.all():
            break
        contents = contents[kept]
    return contents
