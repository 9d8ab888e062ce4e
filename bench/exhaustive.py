# ruff: noqa: ANN001, ANN201, ANN202 (what the compiler types itself)
"""The best plate in rows of a small job, by trying every sequence there is.

A second reading of the job and a second pricing of a plate: nothing of the search is used here,
so that the two can be held against each other. ``everything`` tries all sequences and prunes
nothing (up to 8 devices); ``optimum`` leaves out only what a bound proves to be no better (up to
14). Jobs are read that the generator makes: one voltage group a device, nothing fixed, plugged,
hung, on the door or wished for, no regions to keep free but the plate's own fixings.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numba
import numpy as np

from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.model.job import DuctStock, Job
from platewright.model.part import Mount

SHORTEST_RAIL = 55.0  # a rail that takes two screws, mm
MM = 1000.0


class Small(NamedTuple):
    """A small job and the ducts it is planned with, as the enumeration reads it; mm throughout."""

    width: np.ndarray
    gap_left: np.ndarray  # must stay empty left of the cover
    gap_right: np.ndarray
    up: np.ndarray  # room needed above the device's line (rail axis, or its middle)
    down: np.ndarray
    on_rail: np.ndarray
    group: np.ndarray
    pull: np.ndarray  # cost per mm of height
    wire: np.ndarray  # (w, 2) devices at the ends
    side: np.ndarray  # (w, 2) 0: into the duct above, 1: below
    dx: np.ndarray  # (w, 2) terminal from the left of the device's cover
    dy: np.ndarray  # (w, 2) terminal above the device's line
    rows: int
    left: float  # space between the upright ducts
    right: float
    top: float
    bottom: float
    duct: float  # width of all ducts across
    uprights: np.ndarray
    side_gap: float
    group_gap: float
    usable: float
    w_wire: float
    w_height: float
    w_duct: float
    w_rail: float
    w_zone: float


def _margins(job: Job) -> tuple[float, float, float, float]:
    """Return left, bottom, right, top of the plate that is used.

    Each fixing hole is cleared by one margin; of all ways the one that leaves the most plate.
    """
    plate = job.settings.plate
    ways: list[tuple[float, float, float, float]] = [(plate.edge_margin,) * 4]
    for hole in plate.fixing_holes:
        reach = hole.keep_out / 2
        needs = (
            math.ceil(hole.x + reach), math.ceil(hole.y + reach),
            math.ceil(plate.width - hole.x + reach), math.ceil(plate.height - hole.y + reach),
        )  # fmt: skip
        sizes = (plate.width, plate.height, plate.width, plate.height)
        ways = [
            tuple(max(m, need) if k == side else m for k, m in enumerate(way))  # type: ignore[misc]
            for way in ways
            for side, need in enumerate(needs)
            if need <= 0.15 * sizes[side]
        ]
    lost = [(plate.width - a - c) * (plate.height - b - d) for a, b, c, d in ways]
    a, b, c, d = ways[int(np.argmax(lost))]
    return a, b, plate.width - c, plate.height - d


def read_small(job: Job, rows: int, stock: DuctStock) -> Small:
    """Read a job, to be planned in ``rows`` rows with one duct size all round."""
    settings = job.settings
    clear, wiring = clear_spaces(job), wiring_spaces(job)
    tags = [d.tag for d in job.on_plate]
    number = {tag: k for k, tag in enumerate(tags)}
    table: list[list[float]] = []
    taps: dict[tuple[str, str], tuple[int, int, float, float]] = {}
    for tag in tags:
        p, need, room = job.part_of(tag), clear[tag], wiring[tag]
        line = p.rail_center if p.mount is Mount.RAIL and p.rail_center else p.height / 2
        if p.mount is Mount.SCREWS:
            line = p.height / 2
        c_left, c_top, c_low = p.cover_left or 0.0, p.cover_top or 0.0, p.cover_bottom or 0.0
        above = max(c_top + need.top.room, room.top.room if room.top else 0.0)
        below = max(c_low + need.bottom.room, room.bottom.room if room.bottom else 0.0)
        (group,) = job.devices[tag].group
        aims = settings.aims
        table.append([
            c_left + p.width + (p.cover_right or 0.0), need.left.room, need.right.room,
            p.height - line + above, line + below, float(p.mount is Mount.RAIL),
            float([g.name for g in settings.groups].index(group)),
            aims.heavy_low * (p.mass or 0.0) - aims.hot_high * (p.heat or 0.0),
        ])  # fmt: skip
        for side, names in enumerate((p.terminals_top, p.terminals_bottom)):
            for k, name in enumerate(names):
                x = c_left + p.width * (k + 0.5) / len(names)
                taps[tag, name] = (number[tag], side, x, (p.height if side == 0 else 0.0) - line)
    ends = [
        (taps[w.start.device, w.start.terminal], taps[w.end.device, w.end.terminal])
        for w in job.wires
    ]
    low_x, low_y, high_x, high_y = _margins(job)
    cols = np.array(table)
    tap = np.array(ends, dtype=np.float64).reshape(-1, 2, 4)
    return Small(
        width=cols[:, 0].copy(), gap_left=cols[:, 1].copy(), gap_right=cols[:, 2].copy(),
        up=cols[:, 3].copy(), down=cols[:, 4].copy(), on_rail=cols[:, 5].astype(np.int64),
        group=cols[:, 6].astype(np.int64), pull=cols[:, 7].copy(),
        wire=tap[:, :, 0].astype(np.int64), side=tap[:, :, 1].astype(np.int64),
        dx=tap[:, :, 2].copy(), dy=tap[:, :, 3].copy(), rows=rows,
        left=float(math.ceil(low_x + stock.width)), right=float(math.floor(high_x - stock.width)),
        top=float(high_y), bottom=float(low_y), duct=stock.width,
        uprights=np.array([low_x + stock.width / 2, high_x - stock.width / 2]),
        side_gap=settings.limits.side_gap, group_gap=settings.limits.group_gap,
        usable=1.0 - settings.row_spare, w_wire=settings.aims.wire,
        w_height=settings.aims.height,
        w_duct=settings.aims.duct, w_rail=settings.aims.rail_piece * MM,
        w_zone=settings.aims.zone * MM,
    )  # fmt: skip


@numba.njit(cache=True)
def set_heights(row_of, s, line, duct_y):
    """Fill each device's line and each duct's axis for devices in given rows; return if it fits.

    A row is as high as its devices need, in whole mm; rails lie in the middle of what is spare.
    """
    y = s.top
    for r in range(s.rows):
        duct_y[r] = y - s.duct / 2
        y -= math.ceil(s.duct)
        above, below, tallest = 0.0, 0.0, 0.0
        for i in range(len(s.width)):
            if row_of[i] != r:
                continue
            if s.on_rail[i] == 1:
                above, below = max(above, s.up[i]), max(below, s.down[i])
            else:
                tallest = max(tallest, s.up[i] + s.down[i])
        high = math.ceil(max(math.ceil(above) + below, tallest) - 1e-9)
        spare = math.floor(high - above - below + 1e-9)
        axis = y - math.ceil(above - 1e-9) - math.floor(spare / 2)
        for i in range(len(s.width)):
            if row_of[i] == r:
                line[i] = axis
                if s.on_rail[i] == 0:
                    line[i] = y - s.up[i] - (high - s.up[i] - s.down[i]) / 2
        y -= high
    duct_y[s.rows] = y - s.duct / 2
    return y - s.duct >= s.bottom - 1e-6


@numba.njit(cache=True)
def put(b, at, s):
    """Stand device b next in a row; return (its left edge, the row's state after it, legal).

    State ``at``: right end so far, clear space wanted there, group (-1: none yet), groups that
    have ended (bits), left end of the rail piece (nan: none), sum of widths and gaps, pieces.
    """
    end, clear, group, over, rail, used, pieces = at
    gap = max(clear, s.gap_left[b])
    legal = True
    if group >= 0 and s.group[b] != group:
        gap = max(gap, s.group_gap)
        over = over | (1 << group)
        legal = (over >> s.group[b]) & 1 == 0
    if s.on_rail[b] == 0:
        if not math.isnan(rail):
            end = max(end, rail + SHORTEST_RAIL - gap)
        x = math.ceil(end + gap - 1e-6)
        rail = math.nan
    else:
        x = math.ceil((end + gap) * 1000.0 - 1e-3) / 1000.0
        if math.isnan(rail):
            rail = x
            pieces += 1
    used += x - end + s.width[b]
    return x, (x + s.width[b], s.gap_right[b], s.group[b], over, rail, used, pieces), legal


@numba.njit(cache=True)
def fits(at, s):
    """Tell whether a row that ends here fits in width."""
    end, clear, _, _, rail, used, _ = at
    if not math.isnan(rail) and end < rail + SHORTEST_RAIL:
        end, clear = rail + SHORTEST_RAIL, 0.0
    if end + max(clear, s.side_gap) > s.right + 1e-6:
        return False
    return used <= (s.right - s.left) * s.usable + 1e-6


@numba.njit(cache=True)
def across(xa, xb, same, s):
    """Return the run along ducts across, between two terminals."""
    if same:
        return abs(xa - xb)
    best = math.inf
    for v in s.uprights:
        best = min(best, abs(xa - v) + abs(xb - v))
    return best


@numba.njit(cache=True)
def standing_cost(row_of, line, duct_y, s):
    """Return all of the cost that the order in the rows does not change."""
    high = s.top - duct_y[s.rows]
    ducts = (s.rows + 1) * (s.right - s.left) + len(s.uprights) * high
    cost = s.w_height * high + s.w_duct * ducts
    for i in range(len(s.width)):
        cost += s.pull[i] * line[i]
    for w in range(len(s.wire)):
        a, b = s.wire[w]
        ha, hb = duct_y[row_of[a] + s.side[w, 0]], duct_y[row_of[b] + s.side[w, 1]]
        up_down = abs(ha - hb) + abs(ha - line[a] - s.dy[w, 0]) + abs(hb - line[b] - s.dy[w, 1])
        cost += s.w_wire * up_down
    return cost


@numba.njit(cache=True)
def zones_begun_again(order, ends, s):
    """Return how often a group starts again, rows read in the directions that make it fewest.

    Every choice of directions is tried: a row's zone goes on in the next row from either end.
    """
    fewest = len(order)
    for way in range(2**s.rows):
        seen, now, count, first = 0, -1, 0, 0
        for r in range(s.rows):
            for k in range(first, ends[r]):
                b = order[k] if (way >> r) & 1 == 0 else order[ends[r] - 1 - (k - first)]
                if s.group[b] != now:
                    now = s.group[b]
                    count += (seen >> now) & 1
                    seen |= 1 << now
            first = ends[r]
        fewest = min(fewest, count)
    return fewest


@numba.njit(cache=True)
def price(order, ends, s):
    """Return the cost of a sequence, infinite if it is not legal; ``ends``: where rows end."""
    n = len(order)
    row_of, x = np.zeros(n, dtype=np.int64), np.zeros(n)
    line, duct_y = np.zeros(n), np.zeros(s.rows + 1)
    k, pieces = 0, 0
    for r in range(s.rows):
        at = (s.left, s.side_gap, -1, 0, math.nan, 0.0, 0)
        first = k
        while k < ends[r]:
            b = order[k]
            row_of[b] = r
            x[b], at, legal = put(b, at, s)
            if not legal:
                return math.inf
            k += 1
        if k > first and not fits(at, s):
            return math.inf
        pieces += at[6]
    if not set_heights(row_of, s, line, duct_y):
        return math.inf
    cost = standing_cost(row_of, line, duct_y, s) + s.w_rail * pieces
    cost += s.w_zone * zones_begun_again(order, ends, s)
    for w in range(len(s.wire)):
        a, b = s.wire[w]
        same = row_of[a] + s.side[w, 0] == row_of[b] + s.side[w, 1]
        cost += s.w_wire * across(x[a] + s.dx[w, 0], x[b] + s.dx[w, 1], same, s)
    return cost


@numba.njit(cache=True)
def everything(s):
    """Return the least cost of all sequences in all ways to share them among the rows."""
    n = len(s.width)
    order, swap = np.arange(n), np.zeros(n, dtype=np.int64)
    best, tried = math.inf, 0
    ends = np.zeros(s.rows, dtype=np.int64)
    k = 0
    while True:  # all orders, each by one exchange from the last (B. R. Heap, 1963)
        ends[:] = 0
        ends[s.rows - 1] = n
        while True:  # all places of the row ends
            best = min(best, price(order, ends, s))
            tried += 1
            r = s.rows - 2
            while r >= 0 and ends[r] == n:
                r -= 1
            if r < 0:
                break
            ends[r : s.rows - 1] = ends[r] + 1
        while k < n and swap[k] >= k:
            swap[k] = 0
            k += 1
        if k == n:
            return best, tried
        i = 0 if k % 2 == 0 else swap[k]
        order[i], order[k] = order[k], order[i]
        swap[k] += 1
        k = 0


@numba.njit(cache=True)
def _near(lo, hi, v):
    """Return the least distance from a stretch to a place."""
    return max(0.0, lo - v, v - hi)


@numba.njit(cache=True)
def _bound(state, row_of, row, s):
    """Return run along ducts that the wires of devices still to stand must have at least.

    ``state``: (x, placed, right end of the row being filled). What still stands in this row
    stands right of the end, one behind the other; lightest width a wire first is best for the
    wires that come from the left (W. E. Smith, 1956). Two devices of one row are at least as far
    apart as side by side.
    """
    x, placed, end = state
    n = len(s.width)
    total = 0.0
    pulls = np.zeros(n)
    for w in range(len(s.wire)):
        a, b = s.wire[w]
        if placed[a] and placed[b]:
            continue
        i, j = (0, 1) if placed[a] or not placed[b] else (1, 0)
        a, b = s.wire[w, i], s.wire[w, j]
        xa, xb = s.dx[w, i], s.dx[w, j]
        same = row_of[a] + s.side[w, i] == row_of[b] + s.side[w, j]
        lo_b = (end if row_of[b] == row else s.left + s.side_gap) + xb
        hi_b = s.right - s.side_gap - s.width[b] + xb
        if not placed[a]:
            if a == b:
                total += across(xa, xb, same, s) if same else 0.0
            elif same and row_of[a] == row_of[b]:
                total += max(0.0, min(s.width[a] - xa + xb, s.width[b] - xb + xa))
            elif not same:
                lo_a = (end if row_of[a] == row else s.left + s.side_gap) + xa
                hi_a = s.right - s.side_gap - s.width[a] + xa
                best = math.inf
                for v in s.uprights:
                    best = min(best, _near(lo_a, hi_a, v) + _near(lo_b, hi_b, v))
                total += best
            continue
        at = x[a] + xa
        if same:
            total += _near(lo_b, hi_b, at)
            if row_of[b] == row and at <= lo_b:
                pulls[b] += 1.0
        else:
            best = math.inf
            for v in s.uprights:
                best = min(best, abs(at - v) + _near(lo_b, hi_b, v))
            total += best
    before = 0.0
    used = np.zeros(n, dtype=np.bool_)
    while True:
        best, ratio = -1, math.inf
        for i in range(n):
            if pulls[i] > 0.0 and not used[i] and s.width[i] / pulls[i] < ratio:
                best, ratio = i, s.width[i] / pulls[i]
        if best < 0:
            return total
        total += pulls[best] * before
        before += s.width[best]
        used[best] = True


@numba.njit(cache=True)
def _run_to_placed(b, x, placed, row_of, s):
    """Return the run along ducts from device b to all that stand already, itself included."""
    total = 0.0
    for w in range(len(s.wire)):
        i, j = s.wire[w]
        if (i == b and placed[j]) or (j == b and placed[i]):
            same = row_of[i] + s.side[w, 0] == row_of[j] + s.side[w, 1]
            total += across(x[i] + s.dx[w, 0], x[j] + s.dx[w, 1], same, s)
    return total


@numba.njit(cache=True)
def _best_order(row_of, fixed, best, s):
    """Return (least cost below ``best`` of devices in given rows, nodes); depth first."""
    n = len(s.width)
    counts = np.zeros(s.rows + 1, dtype=np.int64)  # how many stand before each row ends
    rooms = np.zeros(s.rows)
    pieces_least = 0
    for r in range(s.rows):
        some = 0
        for i in range(n):
            if row_of[i] == r:
                counts[r + 1] += 1
                rooms[r] += s.width[i]
                some = max(some, s.on_rail[i])
        counts[r + 1] += counts[r]
        pieces_least += some
    x, placed = np.zeros(n), np.zeros(n, dtype=np.bool_)
    chosen, tries = np.full(n, -1), np.zeros(n + 1, dtype=np.int64)
    runs, rails = np.zeros(n + 1), np.zeros(n + 1, dtype=np.int64)
    rest = np.zeros(n + 1)  # widths still to stand in the row
    empty = (s.left, s.side_gap, -1, 0, math.nan, 0.0, 0)
    states = [empty] * (n + 1)
    nodes = 0
    d = 0
    row = 0
    while counts[row + 1] == 0:
        row += 1
    rest[0] = rooms[row]
    while d >= 0:
        if d == n:
            cost = fixed + s.w_wire * runs[n] + s.w_rail * rails[n]
            best = min(best, cost + s.w_zone * zones_begun_again(chosen, counts[1:], s))
        row = 0
        while row < s.rows - 1 and counts[row + 1] <= d:
            row += 1
        if d < n and chosen[d] >= 0:
            placed[chosen[d]] = False
            chosen[d] = -1
        b = n if d == n else tries[d]
        while b < n and (placed[b] or row_of[b] != row):
            b += 1
        if b >= n:
            d -= 1
            continue
        tries[d] = b + 1
        nodes += 1
        x[b], after, legal = put(b, states[d], s)
        if not legal or after[0] + rest[d] - s.width[b] + s.side_gap > s.right + 1e-6:
            continue
        placed[b] = True
        chosen[d] = b
        runs[d + 1] = runs[d] + _run_to_placed(b, x, placed, row_of, s)
        rails[d + 1] = rails[d] + after[6] - states[d][6]
        rest[d + 1] = rest[d] - s.width[b]
        next_row = row
        if d + 1 == counts[row + 1]:
            if not fits(after, s):
                continue
            while next_row < s.rows - 1 and counts[next_row + 1] <= d + 1:
                next_row += 1
            after = empty
            rest[d + 1] = rooms[next_row]
        bound = _bound((x, placed, after[0]), row_of, next_row, s)
        low = fixed + s.w_wire * (runs[d + 1] + bound)
        low += s.w_rail * max(rails[d + 1], pieces_least)
        if low >= best - 1e-7:
            continue
        states[d + 1] = after
        d += 1
        if d < n:
            tries[d] = 0
    return best, nodes


@numba.njit(cache=True)
def optimum(s, cutoff):
    """Return (least cost of any legal plate, or ``cutoff`` if none is below it; nodes looked at).

    For every sharing of the devices among the rows: what no order changes is priced, then orders
    are tried depth first, leaving those whose bound is not below the best.
    """
    n = len(s.width)
    best, nodes = cutoff, 0
    row_of, line, duct_y = np.zeros(n, dtype=np.int64), np.zeros(n), np.zeros(s.rows + 1)
    nothing = np.zeros(n, dtype=np.bool_)
    most = s.right - s.left - 2 * s.side_gap
    while True:
        wide = False
        for r in range(s.rows):
            total = 0.0
            for i in range(n):
                total += s.width[i] if row_of[i] == r else 0.0
            wide = wide or total > most + 1e-6
        if not wide and set_heights(row_of, s, line, duct_y):
            fixed = standing_cost(row_of, line, duct_y, s)
            low = s.w_wire * _bound((line, nothing, s.left), row_of, -1, s)
            if fixed + low < best - 1e-7:
                best, more = _best_order(row_of, fixed, best, s)
                nodes += more
        i = 0
        while i < n and row_of[i] == s.rows - 1:
            row_of[i] = 0
            i += 1
        if i == n:
            return best, nodes
        row_of[i] += 1
