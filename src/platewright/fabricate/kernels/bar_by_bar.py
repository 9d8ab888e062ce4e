"""Fill bars one after the other, each as full as can be, with the longest piece left in it.

Goes back where the rest can no longer be held, and starts anew by chance when it went back too
often. Finds, proves nothing.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.fabricate.kernels.reach import Ints, contents_from, lengths_of, longest
from platewright.foundation.compiled import compiled

SKIP = 15  # of a hundred chances, how many to pass over a kind, from the second start on
WIDTH = 4  # contents tried for each bar
STEPS = 2000  # pieces tried in looking for them


@compiled
def bar_by_bar(
    sizes: Ints, demand: Ints, capacity: int, bars: int, tries: int, steps: int, slack: int
) -> NDArray[np.int16]:
    """Return contents of at most ``bars`` bars that take all pieces; no rows: none was found.

    ``tries``: starts; ``steps``: bars filled in each. Every second start lets a bar waste
    ``slack`` more than it must.
    """
    n = len(sizes)
    tried = np.zeros((bars + 1, WIDTH, n), np.int16)
    many = np.zeros(bars + 1, np.int64)
    next_at = np.zeros(bars + 1, np.int64)
    waste = np.zeros(bars + 1, np.int64)
    counts = demand.copy()
    kinds = np.zeros(n, np.int64)
    reach = np.zeros((n + 1, (capacity >> 6) + 1), np.uint64)
    state = np.full(1, 88172645463325252, np.uint64)
    total = np.sum(sizes * demand)
    for attempt in range(tries):
        counts[:] = demand
        waste[0] = bars * capacity - total
        level, spent, is_new = 0, 0, True
        while True:
            if is_new:
                spent += 1
                open_kinds = 0
                for kind in range(n):
                    if counts[kind] > 0:
                        kinds[open_kinds] = kind
                        open_kinds += 1
                if open_kinds == 0:
                    result = np.zeros((level, n), np.int16)
                    for bar in range(level):
                        result[bar] = tried[bar, next_at[bar] - 1]
                    return result
                many[level], next_at[level] = 0, 0
                if level < bars:
                    lengths_of(sizes, counts, kinds, open_kinds, 1, reach)
                    room = capacity - sizes[kinds[0]]
                    least = room - longest(reach[0], room)
                    if least <= waste[level]:
                        allowed = min(waste[level], least + (slack if attempt % 2 == 1 else 0))
                        # the longest piece must go somewhere: it starts the bar
                        many[level], _ = contents_from(
                            sizes, counts, kinds, 0, open_kinds, capacity, allowed, reach,
                            tried[level], 0, 0 if attempt == 0 else SKIP, state, STEPS, 0,
                        )  # fmt: skip
            if next_at[level] < many[level] and spent < steps:
                used = 0
                for kind in range(n):
                    amount = tried[level, next_at[level], kind]
                    counts[kind] -= amount
                    used += amount * sizes[kind]
                next_at[level] += 1
                waste[level + 1] = waste[level] - (capacity - used)
                level += 1
                is_new = True
            elif level == 0 or spent >= steps:
                break
            else:
                level -= 1
                for kind in range(n):
                    counts[kind] += tried[level, next_at[level] - 1, kind]
                is_new = False
    return np.zeros((0, n), np.int16)
