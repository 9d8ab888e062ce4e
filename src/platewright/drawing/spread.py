"""Labels along a line, moved apart as little as can be."""

from __future__ import annotations

from collections.abc import Sequence

from platewright.foundation.units import Mm


def spread(
    wanted: Sequence[Mm], gap: Mm, *, low: Mm = float("-inf"), high: Mm = float("inf")
) -> tuple[Mm, ...]:
    """Return places at least ``gap`` apart, in the same order, near the wanted ones.

    The sum of squared moves is least (pool-adjacent-violators regression). ``wanted`` must
    rise. Where the labels do not fit between ``low`` and ``high`` they stand evenly closer.
    """
    count = len(wanted)
    if not count:
        return ()
    if (count - 1) * gap > high - low:
        gap = (high - low) / (count - 1)
    pools: list[tuple[float, int]] = []  # mean, members
    for index, place in enumerate(wanted):
        mean, members = place - index * gap, 1
        while pools and pools[-1][0] > mean:
            other, more = pools.pop()
            mean = (mean * members + other * more) / (members + more)
            members += more
        pools.append((mean, members))
    flat = [mean for mean, members in pools for _ in range(members)]
    top = high - (count - 1) * gap
    return tuple(min(max(mean, low), top) + index * gap for index, mean in enumerate(flat))
