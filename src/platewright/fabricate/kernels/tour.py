"""Make a closed tour shorter: exchanges of two and three edges, and small kicks.

From each place that waits, the exchange that gains most is carried out: an edge is taken out, a
near one put in, up to three times (Lin 1965, with the order of Lin and Kernighan 1973). A kick
changes four edges near each other (the double bridge of Martin, Otto and Felten 1991); what did not
make the tour longer is kept, slightly longer ones now and then at first. Own random bits,
and a number of kicks instead of a time, so that the same holes give the same tour everywhere.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.compiled import compiled, lent
from platewright.foundation.random_bits import Bits, below, share

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

TWO, CHAIN, TURN, SWAP = range(4)  # kinds of exchange: two edges; three edges in three ways
SECOND = 5  # near ends looked at for the last edge
LONGEST = 30  # longest of the three stretches that a kick puts in another order
WARMTH = 0.1  # share of the mean edge by which a tour may get longer, at first
EPS = 1e-7  # a gain smaller than this is rounding


@lent
def _flip(tour: Ints, pos: Ints, i: int, j: int) -> None:
    """Turn the stretch from position i on to j round, or the rest instead where that is shorter.

    The same tour either way, if perhaps run backwards.
    """
    n = tour.size
    inside = j - i + 1
    if inside <= 0:
        inside += n
    if 2 * inside > n:
        i, j = j + 1, i - 1
        if i == n:
            i = 0
        if j < 0:
            j = n - 1
        inside = n - inside
    for _ in range(inside // 2):
        a, b = tour[i], tour[j]
        tour[i], tour[j] = b, a
        pos[b], pos[a] = i, j
        i += 1
        if i == n:
            i = 0
        j -= 1
        if j < 0:
            j = n - 1


@lent
def _beside(tour: Ints, pos: Ints, city: int, forward: bool) -> int:
    """Return the next place of the tour, or the one before."""
    n = tour.size
    at = pos[city] + (1 if forward else n - 1)
    return tour[at - n] if at >= n else tour[at]


@lent
def _exchange(tour: Ints, pos: Ints, t1: int, t2: int, p: int) -> None:
    """Turn round what lies from t2 on to p, seen from t1: t1 comes beside p."""
    if _beside(tour, pos, t1, True) == t2:
        _flip(tour, pos, pos[t2], pos[p])
    else:
        _flip(tour, pos, pos[p], pos[t2])


@lent
def _within(pos: Ints, a: int, b: int, c: int, forward: bool) -> bool:
    """Tell whether b is met on the way from a to c."""
    i, j, k = pos[a], pos[b], pos[c]
    if not forward:
        i, k = k, i
    return i <= j <= k if i <= k else j >= i or j <= k


@lent
def _best_from(tour: Ints, pos: Ints, d: Floats, near: Ints, t1: int, best: Ints) -> float:
    """Look for the exchange of two or three edges, one of them beside t1, that gains most.

    ``best``: its kind and the places t1 to t6, every odd one beside the even one after it; an edge
    leads from every even one to the next, and from the last to t1.
    """
    gained = EPS
    for side in range(2):
        forward = side == 0
        t2 = _beside(tour, pos, t1, forward)
        for k in range(near.shape[1]):
            t3 = near[t2, k]
            g1 = d[t1, t2] - d[t2, t3]
            if g1 <= EPS:
                break
            if t3 == t1:
                continue
            for way in range(2):
                t4 = _beside(tour, pos, t3, (way == 1) == forward)
                if t4 == t2:
                    continue
                g2 = g1 + d[t3, t4]
                if way == 0 and g2 - d[t4, t1] > gained:
                    gained = g2 - d[t4, t1]
                    best[0], best[1], best[2], best[3], best[4] = TWO, t1, t2, t3, t4
                for m in range(SECOND):
                    t5 = near[t4, m]
                    g3 = g2 - d[t4, t5]
                    if g3 <= gained:
                        break
                    gained = _close(
                        tour, pos, d, (t1, t2, t3, t4, t5), g3, gained, forward, way == 0, best
                    )
            if gained > EPS:
                return gained
    return gained if gained > EPS else 0.0


@lent
def _close(
    tour: Ints, pos: Ints, d: Floats, t: tuple[int, int, int, int, int], g3: float, gained: float,
    forward: bool, turns: bool, best: Ints,
) -> float:  # fmt: skip
    """Look for the third edge to take out, at t5; return the best gain so far."""
    t1, t2, t3, t4, t5 = t
    inside = _within(pos, t2, t5, t4 if turns else t3, forward)
    for way in range(2):
        if turns:
            if way == 1:
                break
            kind = CHAIN
            if t5 in (t3, t4) or (t5 == t1 and inside):
                break
            t6 = _beside(tour, pos, t5, inside == forward)
        else:
            if not inside:
                break
            kind = SWAP if way == 0 else TURN
            t6 = _beside(tour, pos, t5, (way == 0) == forward)
            if (way == 0 and t5 == t3) or (way == 1 and t5 == t2):
                continue
        value = g3 + d[t5, t6] - d[t6, t1]
        if value > gained and t6 != t1:
            gained = value
            best[0], best[1], best[2], best[3] = kind, t1, t2, t3
            best[4], best[5], best[6] = t4, t5, t6
    return gained


@lent
def _carry_out(tour: Ints, pos: Ints, best: Ints) -> None:
    """Make the exchange that was found."""
    kind, t1, t2, t3, t4, t5, t6 = best
    if kind == TWO or kind == CHAIN:
        _exchange(tour, pos, t1, t2, t4)
        if kind == CHAIN:
            _exchange(tour, pos, t1, t4, t6)
    elif kind == TURN:  # both neighbouring stretches are turned round in their places
        _exchange(tour, pos, t1, t2, t6)
        _exchange(tour, pos, t2, t5, t3)
    else:  # two neighbouring stretches change places
        _exchange(tour, pos, t1, t2, t3)
        _exchange(tour, pos, t1, t3, t6)
        _exchange(tour, pos, t3, t5, t2)


@compiled
def _settle(tour: Ints, pos: Ints, d: Floats, near: Ints, queue: Ints, waiting: Ints) -> float:
    """Shorten the tour from the places that wait; return by how much.

    ``queue`` is a ring: its last two entries are the head and the number of waiting places.
    """
    n = tour.size
    best = np.zeros(7, dtype=np.int64)
    total = 0.0
    while queue[n + 1] > 0:
        city = queue[queue[n]]
        queue[n] = queue[n] + 1 if queue[n] + 1 < n else 0
        queue[n + 1] -= 1
        waiting[city] = 0
        while True:
            gain = _best_from(tour, pos, d, near, city, best)
            if gain <= 0.0:
                break
            total += gain
            _carry_out(tour, pos, best)
            for k in range(1, 5 if best[0] == TWO else 7):
                _wait(queue, waiting, best[k])
    return total


@lent
def _wait(queue: Ints, waiting: Ints, city: int) -> None:
    """Put a place into the ring, unless it waits there already."""
    n = waiting.size
    if not waiting[city]:
        waiting[city] = 1
        at = queue[n] + queue[n + 1]
        queue[at - n if at >= n else at] = city
        queue[n + 1] += 1


@lent
def _kick(
    tour: Ints, pos: Ints, d: Floats, state: Bits, spare: Ints, queue: Ints, waiting: Ints
) -> float:  # fmt: skip
    """Turn the order of three neighbouring stretches round; return how much longer it got.

    No stretch is turned itself, so that four edges change. ``spare``: room for a tour.
    """
    n = tour.size
    most = min(LONGEST, (n - 2) // 3)
    p1 = below(state, n)
    a, b, c = 1 + below(state, most), 1 + below(state, most), 1 + below(state, most)
    size = a + b + c
    at = p1
    for k in range(size + 2):
        spare[k] = tour[at]
        at += 1
        if at == n:
            at = 0
    old = d[spare[0], spare[1]] + d[spare[a], spare[a + 1]]
    old += d[spare[a + b], spare[a + b + 1]] + d[spare[size], spare[size + 1]]
    new = d[spare[0], spare[a + b + 1]] + d[spare[size], spare[a + 1]]
    new += d[spare[a + b], spare[1]] + d[spare[a], spare[size + 1]]
    for k in (0, 1, a, a + 1, a + b, a + b + 1, size, size + 1):
        _wait(queue, waiting, spare[k])
    at = p1 + 1
    for first, last in ((a + b + 1, size), (a + 1, a + b), (1, a)):
        for k in range(first, last + 1):
            if at >= n:
                at -= n
            tour[at], pos[spare[k]] = spare[k], at
            at += 1
    return new - old


@compiled
def shorten(tour: Ints, d: Floats, near: Ints, kicks: int, seed: int) -> float:
    """Shorten a closed tour in place; return by how much.

    ``d``: lengths between all places. ``near``: for each place its nearest others, nearest first.
    """
    n = tour.size
    pos = np.empty(n, dtype=np.int64)
    for k in range(n):
        pos[tour[k]] = k
    queue = np.zeros(n + 2, dtype=np.int64)
    waiting = np.zeros(n, dtype=np.int64)
    state = np.empty(1, dtype=np.uint64)
    state[0] = np.uint64(seed) * np.uint64(2654435769) + np.uint64(88172645463325252)
    for k in range(n):
        _wait(queue, waiting, tour[k])
    total = _settle(tour, pos, d, near, queue, waiting)
    if n < 8:
        return total
    mean = 0.0
    for k in range(n):
        mean += d[tour[k], tour[(k + 1) % n]] / n
    best, best_total = tour.copy(), total
    spare = np.empty(n, dtype=np.int64)
    before = tour.copy()
    for kick in range(kicks):
        longer = _kick(tour, pos, d, state, spare, queue, waiting)
        gain = _settle(tour, pos, d, near, queue, waiting) - longer
        heat = WARMTH * mean * (1.0 - kick / kicks)
        if gain >= -EPS or -gain < heat * share(state):
            total += gain
            before[:] = tour
            if total > best_total + EPS:
                best_total = total
                best[:] = tour
        else:
            tour[:] = before
            for k in range(n):
                pos[tour[k]] = k
    tour[:] = best
    return best_total
