"""Labels along a line, moved apart as little as can be."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise

from platewright.foundation.units import Mm


def spread(
    wanted: Sequence[Mm],
    gap: Mm | Sequence[Mm],
    *,
    low: Mm = float("-inf"),
    high: Mm = float("inf"),
) -> tuple[Mm, ...]:
    """Return places at least ``gap`` apart, in the same order, near the wanted ones.

    ``gap``: one for all, or the room that each label needs: neighbours then stand at least half
    the sum of theirs apart. The sum of squared moves is least (pool-adjacent-violators
    regression). ``wanted`` must rise. Where the labels do not fit between ``low`` and ``high``
    they stand closer, all by the same share.
    """
    count = len(wanted)
    if not count:
        return ()
    rooms = [gap] * count if isinstance(gap, int | float) else list(gap)
    steps = [(one + other) / 2 for one, other in pairwise(rooms)]
    offsets = [0.0, *accumulate(steps)]
    if high < low:
        low = high = (low + high) / 2
    if offsets[-1] > high - low:
        offsets = [offset * (high - low) / offsets[-1] for offset in offsets]
    pools: list[tuple[float, int]] = []  # mean, members
    for offset, place in zip(offsets, wanted, strict=True):
        mean, members = place - offset, 1
        while pools and pools[-1][0] > mean:
            other, more = pools.pop()
            mean = (mean * members + other * more) / (members + more)
            members += more
        pools.append((mean, members))
    flat = [mean for mean, members in pools for _ in range(members)]
    top = high - offsets[-1]
    return tuple(
        min(max(mean, low), top) + offset for mean, offset in zip(flat, offsets, strict=True)
    )
