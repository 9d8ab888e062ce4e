"""How likely each content belongs to a cut without rest, and what taking it forces.

Every size tells its contents how much the others offer to serve it, every content tells its sizes
how much its other sizes want it, until they settle (belief propagation: J. Pearl, Probabilistic
Reasoning in Intelligent Systems, 1988). An estimate that says where to look first; no proof.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from platewright.fabricate.kernels.cover import lists_of
from platewright.fabricate.kernels.reach import Ints
from platewright.foundation.compiled import compiled

Flags = NDArray[np.bool_]
Odds = NDArray[np.float32]
Places = NDArray[np.uint32]  # unsigned: the compiler need not ask whether they count from the end
Amounts = NDArray[np.int16]

SETTLED = 1e-3  # change of a likelihood below which all is told
LEAST, MOST = 1e-9, 1e9  # odds beyond these are taken for these
NONE, DEAD_END = -1, -2


class Lists(NamedTuple):
    """What each content holds (from ``start``) and what holds each kind (from ``having``)."""

    start: Ints
    kind: Places
    much: Amounts
    having: Ints
    with_kind: Places
    with_much: Amounts
    entry: Places  # where each of the last two stands among the first


def linked(contents: NDArray[np.int16]) -> Lists:
    """Return the lists of these contents."""
    start, kind, much, having, with_kind, with_much = lists_of(contents)
    entry = np.argsort(kind, kind="stable").astype(np.uint32)
    return Lists(
        start, kind.astype(np.uint32), much.astype(np.int16),
        having, with_kind.astype(np.uint32), with_much.astype(np.int16), entry,
    )  # fmt: skip


@compiled
def estimate(
    of: Lists, counts: Ints, is_open: Flags, odds: Odds, rounds: int, likely: NDArray[np.float64]
) -> int:
    """Write the likelihood of each content into ``likely``; return the rounds that took.

    ``odds``: what contents told their sizes, entry by entry; kept from one call to the next.
    """
    says = np.ones(len(of.kind))
    done = 0
    while done < rounds:
        done += 1
        _sizes_tell(of, counts, is_open, odds, says)
        if _contents_tell(of, is_open, odds, says) < SETTLED:
            break
    for p in range(len(is_open)):
        likely[p] = 0.0
        if is_open[p]:
            wanted = 1.0
            for at in range(of.start[p], of.start[p + 1]):
                wanted *= says[at]
            likely[p] = wanted / (1.0 + wanted)
    return done


@compiled
def _sizes_tell(
    of: Lists, counts: Ints, is_open: Flags, odds: Odds, says: NDArray[np.float64]
) -> None:
    for k in range(len(counts)):
        if counts[k] == 0:
            continue
        offered = 0.0
        for at in range(of.having[k], of.having[k + 1]):
            if is_open[of.with_kind[at]]:
                offered += odds[of.entry[at]]
        for at in range(of.having[k], of.having[k + 1]):
            if is_open[of.with_kind[at]]:
                others = max(offered - odds[of.entry[at]], LEAST)
                says[of.entry[at]] = min(max(counts[k] / others, LEAST), MOST)


@compiled
def _contents_tell(of: Lists, is_open: Flags, odds: Odds, says: NDArray[np.float64]) -> float:
    """Return the greatest change of a likelihood."""
    change = 0.0
    for p in range(len(is_open)):
        if not is_open[p]:
            continue
        wanted = 1.0
        for at in range(of.start[p], of.start[p + 1]):
            wanted *= says[at]
        for at in range(of.start[p], of.start[p + 1]):
            # half way to the new odds: whole steps swing to and fro
            new = np.sqrt(odds[at] * min(max(wanted / says[at], LEAST), MOST))
            change = max(change, abs(new / (1.0 + new) - odds[at] / (1.0 + odds[at])))
            odds[at] = new
    return change


@compiled
def settle(of: Lists, take: int, counts: Ints, is_open: Flags, taken: Ints) -> int:
    """Take a content (or ``NONE``) and what that forces, as long as a size has one choice left.

    Returns how many were written to ``taken``, or ``DEAD_END``: a size has no choice left.
    """
    many = 0
    if take == NONE:
        take = _forced(of, counts, is_open)
    while take >= 0:
        taken[many] = take
        many += 1
        for at in range(of.start[take], of.start[take + 1]):
            counts[of.kind[at]] -= of.much[at]
        for at in range(of.start[take], of.start[take + 1]):
            k = of.kind[at]
            for other in range(of.having[k], of.having[k + 1]):
                if of.with_much[other] > counts[k]:
                    is_open[of.with_kind[other]] = False
        take = _forced(of, counts, is_open)
    return DEAD_END if take == DEAD_END else many


@compiled
def _forced(of: Lists, counts: Ints, is_open: Flags) -> int:
    """Return the only content left for some size; ``NONE``; or ``DEAD_END``."""
    forced = NONE
    for k in range(len(counts)):
        if counts[k] == 0:
            continue
        choices, last = 0, NONE
        for at in range(of.having[k], of.having[k + 1]):
            if is_open[of.with_kind[at]]:
                choices += 1
                last = of.with_kind[at]
        if choices == 0:
            return DEAD_END
        if choices == 1:
            forced = last
    return forced
