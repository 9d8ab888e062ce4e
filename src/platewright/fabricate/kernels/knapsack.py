"""The most valuable content of one bar."""

from __future__ import annotations

import numpy as np

from platewright.fabricate.kernels.reach import Ints
from platewright.foundation.compiled import compiled


@compiled
def best_content(
    values: Ints, sizes: Ints, limits: Ints, order: Ints, capacity: int, most: int, content: Ints
) -> tuple[int, bool]:
    """Write the most valuable content found into ``content``; return its value, and if it is most.

    Depth first, dearest for its size first (``order``, of kinds with value and limit above
    nothing), as far as ``most`` steps go; what can't beat the best is left out.
    """
    n = len(order)
    amount = np.zeros(n, np.int64)
    content[:] = 0
    best, worth, room, steps, depth = 0, 0, capacity, 0, 0
    smallest = capacity + 1
    for at in range(n):
        smallest = min(smallest, sizes[order[at]])
    goes_down = True
    while True:
        if goes_down:
            while depth < n and room >= smallest:
                kind = order[depth]
                # liquid bound: the room left, filled with the dearest kind that is still open
                if worth + values[kind] * room // sizes[kind] <= best:
                    break
                amount[depth] = min(limits[kind], room // sizes[kind])
                room -= amount[depth] * sizes[kind]
                worth += amount[depth] * values[kind]
                depth += 1
            if worth > best:
                best = worth
                content[:] = 0
                for at in range(depth):
                    content[order[at]] = amount[at]
        steps += 1
        if steps > most:
            return best, False
        while depth > 0 and amount[depth - 1] == 0:
            depth -= 1
        if depth == 0:
            return best, True
        kind = order[depth - 1]
        amount[depth - 1] -= 1
        room += sizes[kind]
        worth -= values[kind]
        goes_down = True


@compiled
def best_content_surely(
    values: Ints, sizes: Ints, limits: Ints, capacity: int, content: Ints
) -> int:
    """Write the most valuable content into ``content``; return its value. By the room, exact.

    A limit above 1 is split into 1, 2, 4 ... pieces taken or left together.
    """
    n = len(sizes)
    rows = 0
    for kind in range(n):
        if values[kind] > 0:
            rest = min(limits[kind], capacity // sizes[kind])
            lot = 1
            while rest > 0:
                rows += 1
                rest -= min(lot, rest)
                lot *= 2
    lots, kinds = np.zeros(rows, np.int64), np.zeros(rows, np.int64)
    row = 0
    for kind in range(n):
        if values[kind] > 0:
            rest = min(limits[kind], capacity // sizes[kind])
            lot = 1
            while rest > 0:
                kinds[row], lots[row] = kind, min(lot, rest)
                rest -= lots[row]
                row += 1
                lot *= 2
    worth = np.zeros(capacity + 1, np.int64)
    taken = np.zeros((rows, capacity + 1), np.bool_)
    for row in range(rows):
        size, value = sizes[kinds[row]] * lots[row], values[kinds[row]] * lots[row]
        for room in range(capacity, size - 1, -1):
            with_it = worth[room - size] + value
            if with_it > worth[room]:
                worth[room] = with_it
                taken[row, room] = True
    content[:] = 0
    room = capacity
    for row in range(rows - 1, -1, -1):
        if taken[row, room]:
            content[kinds[row]] += lots[row]
            room -= sizes[kinds[row]] * lots[row]
    return worth[capacity]
