"""Order devices in one row so that the wires between them are shortest.

The single row of the literature: widths ``w``, wires ``c[i, j]`` between centres, cost the sum of
``c[i, j] * |X_i - X_j|``. Moving one device past its neighbour changes only their two places, so
trying every other place of a device costs O(1) a place once ``left`` is known: the wires of each
device to those on its left (gain rule after G. Palubeckis, 2015). Own generator: the same seed
gives the same order on every machine.
"""

from __future__ import annotations

import numpy as np

from platewright.arrange.arrays import Floats, Ints
from platewright.foundation.compiled import compiled, lent
from platewright.foundation.random_bits import below

_DUST = 1e-9


@compiled
def length_of(order: Ints, w: Floats, c: Floats) -> float:
    """Return the sum of wires times distance of centres."""
    n = len(order)
    total = 0.0
    at = 0.0
    x = np.empty(n)
    for k in range(n):
        x[k] = at + w[order[k]] / 2
        at += w[order[k]]
        for i in range(k):
            total += c[order[i], order[k]] * (x[k] - x[i])
    return total


@lent
def _set_left(order: Ints, c: Floats, left: Floats) -> None:
    """Sum for each device its wires to the devices on its left."""
    for k in range(len(order)):
        b = order[k]
        left[b] = 0.0
        for i in range(k):
            left[b] += c[order[i], b]


@lent
def _move(order: Ints, i: int, j: int, c: Floats, left: Floats) -> None:
    """Move the device at place i to place j, keeping ``left`` right."""
    b = order[i]
    step = 1 if j > i else -1
    k = i
    while k != j:
        other = order[k + step]
        order[k] = other
        left[other] -= step * c[b, other]
        left[b] += step * c[b, other]
        k += step
    order[j] = b


@lent
def _best_place(
    order: Ints, i: int, w: Floats, c: Floats, left: Floats, all_of: Floats
) -> tuple[float, int]:
    """Return (gain, place) of the best other place of the device at place i."""
    b = order[i]
    best, place = 0.0, i
    for step in (1, -1):
        gain, near = 0.0, left[b]
        k = i + step
        while 0 <= k < len(order):
            other = order[k]
            pair = c[b, other]
            # b goes past ``other``: it moves by its width, and ``other`` back by b's
            pull = 2.0 * near - all_of[b] + step * pair
            push = 2.0 * left[other] - all_of[other] - step * pair
            gain -= step * (w[other] * pull - w[b] * push)
            near += step * pair
            if gain > best + _DUST:
                best, place = gain, k
            k += step
    return best, place


@compiled
def _descend(order: Ints, w: Floats, c: Floats, left: Floats, all_of: Floats) -> float:
    """Move single devices to their best places until none gains; return the whole gain."""
    n = len(order)
    total = 0.0
    idle = 0
    b = 0
    place = np.empty(n, dtype=np.int64)
    for k in range(n):
        place[order[k]] = k
    while idle < n:
        i = place[b]
        gain, j = _best_place(order, i, w, c, left, all_of)
        if j != i:
            _move(order, i, j, c, left)
            for k in range(min(i, j), max(i, j) + 1):
                place[order[k]] = k
            total += gain
            idle = 0
        else:
            idle += 1
        b = b + 1 if b + 1 < n else 0
    return total


@compiled
def improve_order(order: Ints, w: Floats, c: Floats, kicks: int, seed: int) -> float:
    """Improve ``order`` in place by descents and ``kicks`` small upsets; return its length."""
    n = len(order)
    left = np.zeros(n)
    all_of = np.zeros(n)
    for i in range(n):
        for j in range(n):
            all_of[i] += c[i, j]
    state = np.empty(1, dtype=np.uint64)
    state[0] = np.uint64(seed) * np.uint64(2685821657736338717) + np.uint64(88172645463325252)
    for _ in range(8):
        below(state, 2)
    _set_left(order, c, left)
    _descend(order, w, c, left, all_of)
    now = length_of(order, w, c)
    best, best_order = now, order.copy()
    trial = order.copy()
    idle = 0
    for _ in range(kicks if n > 2 else 0):
        trial[:] = order
        for _ in range(2 + below(state, 4)):
            _move(trial, below(state, n), below(state, n), c, left)
        if below(state, 4) == 0:  # turn a stretch round
            i, j = below(state, n), below(state, n)
            trial[min(i, j) : max(i, j) + 1] = trial[min(i, j) : max(i, j) + 1][::-1].copy()
        _set_left(trial, c, left)
        _descend(trial, w, c, left, all_of)
        length = length_of(trial, w, c)
        idle += 1
        if length <= now + _DUST or idle > 40 * n:
            order[:] = trial
            if length < now - _DUST or idle > 40 * n:
                idle = 0
            now = length
            if now < best - _DUST:
                best = now
                best_order[:] = order
    order[:] = best_order
    return best


@compiled
def _half_sums(c: Floats, first: int, count: int) -> Floats:
    """Return the wires of each device to every set of ``count`` devices from ``first`` on."""
    n = len(c)
    sums = np.zeros((1 << count, n))
    for s in range(1, 1 << count):
        low = 0
        while (s >> low) & 1 == 0:
            low += 1
        for q in range(n):
            sums[s, q] = sums[s & (s - 1), q] + c[first + low, q]
    return sums


@lent
def _size(s: int) -> int:
    """Return how many devices a set holds."""
    size = 0
    while s:
        s &= s - 1
        size += 1
    return size


@compiled
def _extend_sets(w: Floats, c: Floats, half: int, cost: Floats) -> None:
    """Fill ``cost`` for all sets of up to ``half`` devices."""
    n = len(w)
    low_count = n // 2
    low_bits = (1 << low_count) - 1
    low, high = _half_sums(c, 0, low_count), _half_sums(c, low_count, n - low_count)
    cost[:] = np.inf
    cost[0] = 0.0
    near = np.empty(n)
    for s in range(1 << n):
        if _size(s) >= half:
            continue
        a, b = low[s & low_bits], high[s >> low_count]
        cut = 0.0
        for q in range(n):
            if (s >> q) & 1 == 0:
                near[q] = a[q] + b[q]
                cut += near[q]
        for q in range(n):
            if (s >> q) & 1 == 0:
                new = cost[s] + w[q] * (cut - near[q])
                if new < cost[s | (1 << q)]:
                    cost[s | (1 << q)] = new


@compiled
def cheapest_half(w: Floats, c: Floats, cost: Floats) -> int:
    """Fill ``cost`` with the least cost of standing on the left in any order, for each set.

    Sets are numbers of n bits; a set costs, for each of its devices, its width times the wires
    that pass over it (J. C. Picard and M. Queyranne, 1981). Only sets of up to half the devices
    are needed: what stands right of them costs the same seen from the right. Returns the larger
    half of a best order, as it stands on the left.
    """
    n = len(w)
    half = (n + 1) // 2
    _extend_sets(w, c, half, cost)
    best, best_set = np.inf, 0
    every = (1 << n) - 1
    for s in range(1 << n):
        if _size(s) == half and cost[s] + cost[every ^ s] < best:
            best, best_set = cost[s] + cost[every ^ s], s
    return best_set
