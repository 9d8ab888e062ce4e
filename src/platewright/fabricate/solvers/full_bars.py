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
from platewright.fabricate.kernels.reach import full_contents
from platewright.fabricate.solvers.likely_bars import cuts_expected, likely_bars
from platewright.fabricate.solvers.packing import Counts, Packed, Packing, best_fit

WORK: Final = 40_000_000  # words of lengths touched by one filling: a part of a second
MOST_STARTS: Final = 60
STEPS: Final = 60
SLACK: Final = 200  # every second start lets a bar waste this part of the room more
MOST_CONTENTS: Final = 12_000
MOST_ALIKE: Final = 40_000  # of as many pieces each
ALIKE_STEPS: Final = 20_000_000
LISTING_STEPS: Final = 33  # pieces tried for each content that is listed at most
FINISHING_CONTENTS: Final = 3_000
FINISHING: Final = 4_000_000
FINISHING_STARTS: Final = 6
COVER_STARTS: Final = 24
QUICK: Final = 20_000_000  # entries of contents looked at: a small part of a second
THOROUGH: Final = 150_000_000
PATIENT: Final = 3  # times as many starts, where pieces leave no rest but ways to cut abound
MOST_LIKELY: Final = 3_000  # of more contents it takes too long to tell how likely each is
LIKELY_LOOKS: Final = 60_000_000  # at contents: a second or so

Contents = npt.NDArray[np.int16]  # shape (n_contents, n_sizes)


def fill_bars(problem: Packing, bars: int, most_starts: int = MOST_STARTS) -> list[Counts] | None:
    """Return at most so many bars, filled one by one; ``None``: none were found."""
    pieces, words = int(problem.demand.sum()), (problem.capacity >> 6) + 1
    starts = min(most_starts, WORK // (pieces * words * (bars + STEPS)))
    if starts == 0:
        return None
    slack = max(1, problem.capacity // SLACK)
    found = bar_by_bar(
        problem.sizes, problem.demand, problem.capacity, bars, starts, bars + STEPS, slack
    )
    return [content.astype(np.int64) for content in found] or None


def finish(problem: Packing, bars: int) -> list[Counts] | None:
    """Return a short list cut from so few bars; ``None``: no way was found with little work."""
    start = Packed(bars=tuple(best_fit(problem, problem.demand)), bound=bars)
    if len(start.bars) <= bars:
        return list(start.bars)
    contents = _listed(problem, bars, FINISHING_CONTENTS)
    found = _chosen(problem, bars, contents, FINISHING)
    if not isinstance(found, int):
        return list(found)
    return None if found == IMPOSSIBLE else fill_bars(problem, bars, FINISHING_STARTS)


def choose_full(problem: Packing, packed: Packed, *, work: int, times: int = 1) -> Packed:
    """Return bars as many as the bound, or a higher bound, where full contents are scarce.

    ``work``: entries of contents looked at before it gives up, ``times`` over.
    """
    while not packed.is_proven:
        contents = _listed(problem, packed.bound, MOST_CONTENTS)
        found = _chosen(problem, packed.bound, contents, work, times)
        if found == GIVEN_UP:
            found = _chosen_alike(problem, packed.bound, contents, work, times)
        if not isinstance(found, int):
            return Packed(bars=found, bound=packed.bound)
        if found != IMPOSSIBLE:
            return packed
        packed = Packed(bars=packed.bars, bound=packed.bound + 1)
    return packed


def choose_without_rest(problem: Packing, packed: Packed) -> Packed:
    """Return bars as many as the bound, for pieces that leave no rest: likeliest contents first.

    Where ways to cut abound, starting anew soon meets one and is tried before. Among contents of
    as many pieces each, where that comes out even. A higher bound, where there are no other
    contents and every way was tried.
    """
    each, over = divmod(int(problem.demand.sum()), packed.bound)
    contents = _listed(problem, packed.bound, MOST_LIKELY, 0 if over else each)
    if contents is None or cuts_expected(contents, problem.demand) > 0:
        tried = choose_full(problem, packed, work=THOROUGH, times=PATIENT)
        if contents is None or tried.is_proven or tried.bound > packed.bound:
            return tried
    outcome, chosen = likely_bars(contents, problem.demand, work=LIKELY_LOOKS)
    if outcome == IMPOSSIBLE:
        every = _listed(problem, packed.bound, MOST_CONTENTS)
        is_sure = every is not None and len(every) == len(contents)
        return Packed(bars=packed.bars, bound=packed.bound + is_sure)
    if outcome != FOUND:
        return packed
    bars = tuple(contents[at].astype(np.int64) for at in chosen)
    return Packed(bars=bars, bound=packed.bound)


def _chosen_alike(
    problem: Packing, bars: int, every: Contents | None, work: int, times: int
) -> tuple[Counts, ...] | int:
    """Return so many bars of as many pieces each; that there are none proves nothing.

    ``every``: all contents, where they are known.
    """
    each, over = divmod(int(problem.demand.sum()), bars)
    if over:
        return GIVEN_UP
    contents = _listed(problem, bars, MOST_ALIKE, each)
    if contents is None or (every is not None and len(every) == len(contents)):
        return GIVEN_UP  # too many, or the very ones that were tried
    found = _chosen(problem, bars, contents, work, times)
    return GIVEN_UP if isinstance(found, int) else found


def _listed(problem: Packing, bars: int, most: int, pieces: int = 0) -> Contents | None:
    """Return all contents full enough for so many bars; ``None``: they are more than ``most``.

    ``pieces``: only those of so many pieces; 0: all.
    """
    spare = bars * problem.capacity - int(problem.sizes @ problem.demand)
    if spare < 0:
        return None
    found = np.zeros((most, len(problem.sizes)), dtype=np.int16)
    waste = min(spare, problem.capacity)
    steps = ALIKE_STEPS if pieces else most * LISTING_STEPS
    many, is_all = full_contents(
        problem.sizes, problem.demand, problem.capacity, waste, found, steps, pieces
    )
    return _possible(found[:many], problem, bars) if is_all else None


def _chosen(
    problem: Packing, bars: int, contents: Contents | None, work: int, times: int = 1
) -> tuple[Counts, ...] | int:
    """Return so many bars out of these contents, or why there are none; ``None``: too many."""
    spare = bars * problem.capacity - int(problem.sizes @ problem.demand)
    if spare < 0:
        return IMPOSSIBLE
    if contents is None:
        return GIVEN_UP
    entries = int(np.count_nonzero(contents)) + 1
    steps = 2 * work // (COVER_STARTS * entries)
    wasted = problem.capacity - contents.astype(np.int64) @ problem.sizes
    starts = times * COVER_STARTS
    outcome, chosen = cover(contents, wasted, problem.demand, bars, spare, starts, steps)
    if outcome == FOUND:
        return tuple(contents[at].astype(np.int64) for at in chosen)
    return int(outcome)


def _possible(contents: Contents, problem: Packing, bars: int) -> Contents:
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
