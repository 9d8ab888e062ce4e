"""Anneal a sequence of blocks: legal moves only once a legal plate is found.

A move touches one or two rows. Unless it changes a row's height, only those rows are packed
again and only the wires of blocks that stand elsewhere are measured again; else everything is.
Own xorshift generator, so that the same seed gives the same plate on every machine.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from platewright.arrange.arrays import Blocks, Floats, Frame, Ints, Placed, RowSums, Wiring
from platewright.arrange.kernels.evaluate import (
    evaluate,
    pack_row,
    row_ends,
    row_reach,
    wire_length,
    wishes_missed,
)
from platewright.arrange.kernels.warmth import warmest
from platewright.arrange.kernels.zones import zones_again
from platewright.foundation.compiled import compiled, inlined

Bits = NDArray[np.uint64]
_STEP = 5.0  # mm by which room above a row grows or shrinks
_ALL = -1  # the move touches more than two rows


@inlined
def _next(state: Bits) -> np.uint64:
    """Advance the generator in place; return 64 random bits."""
    s = state[0]
    s ^= s << np.uint64(13)
    s ^= s >> np.uint64(7)
    s ^= s << np.uint64(17)
    state[0] = s
    return s


@inlined
def _below(state: Bits, n: int) -> int:
    """Return a random whole number below n."""
    return np.int64((_next(state) >> np.uint64(11)) % np.uint64(n))


@inlined
def _share(state: Bits) -> float:
    """Return a random number in [0, 1)."""
    return np.float64(_next(state) >> np.uint64(11)) / 9007199254740992.0


@inlined
def _row_at(place: int, ends: Ints) -> int:
    """Return the row that a place of the sequence lies in."""
    row = 0
    while ends[row] < place:
        row += 1
    return row


@compiled
def _move_run(tokens: Ints, i: int, length: int, j: int) -> None:
    """Move ``length`` tokens from place i so that they stand at place j of the rest."""
    run = tokens[i : i + length].copy()
    if j > i:
        for k in range(i, j):
            tokens[k] = tokens[k + length]
    else:
        for k in range(i + length - 1, j + length - 1, -1):
            tokens[k] = tokens[k - length]
    tokens[j : j + length] = run


@inlined
def _has_end(tokens: Ints, i: int, length: int, free: int) -> bool:
    """Tell whether a run of tokens holds the end of a row."""
    found = False
    for k in range(i, i + length):
        found = found or tokens[k] >= free
    return found


@compiled
def _mate_of(b: int, tokens: Ints, wiring: Wiring, free: int, state: Bits) -> int:
    """Return the place of a random block wired to ``b``; -1 when there is none."""
    count = wiring.first[b + 1] - wiring.first[b]
    if count == 0:
        return -1
    mate = wiring.partner[wiring.first[b] + _below(state, count)]
    if mate >= free:
        return -1
    for k in range(len(tokens)):
        if tokens[k] == mate:
            return k
    return -1


@compiled
def _change(
    tokens: Ints, extra: Floats, blocks: Blocks, wiring: Wiring, frame: Frame, state: Bits,
    ends: Ints,
) -> tuple[int, int]:  # fmt: skip
    """Change the sequence by one random move; return the two rows it touches, or all (-1)."""
    n = len(tokens)
    free = blocks.free
    kind = _below(state, 100)
    if kind < 6 and frame.shifts == 1:
        r = _below(state, frame.rows)
        step = _STEP * (1 + _below(state, 8))
        extra[r] = max(0.0, extra[r] + (step if _below(state, 2) == 0 else -step))
        return _ALL, _ALL
    i = _below(state, n)
    if kind < 30:
        j = _below(state, n)
        if tokens[i] >= free or tokens[j] >= free:
            rows = (_ALL, _ALL)
        else:
            rows = (_row_at(i, ends), _row_at(j, ends))
        kept = tokens[i]
        tokens[i] = tokens[j]
        tokens[j] = kept
        return rows
    length = 1
    j = -1
    if kind < 65 and tokens[i] < free:
        where = _mate_of(tokens[i], tokens, wiring, free, state)
        if where >= 0:
            j = where + (1 if _below(state, 2) == 0 else 0)
            if j > i:
                j -= 1
    if j < 0:
        length = min(1 + _below(state, 4), n - i)
        j = max(0, i + _below(state, 17) - 8) if kind < 85 else _below(state, n)
    j = min(j, n - length)
    if _has_end(tokens, i, length, free):
        rows = (_ALL, _ALL)
    else:
        to = j if j <= i else j + length - 1
        rows = (_row_at(i, ends), _row_at(to, ends))
        if j > i and tokens[to] >= free:  # lands behind the end of the row passed last
            rows = (rows[0], rows[1] + 1)
    _move_run(tokens, i, length, j)
    return rows


@compiled
def _keep_heights(tokens: Ints, r: int, blocks: Blocks, sums: RowSums, ends: Ints) -> bool:
    """Tell whether a row's reach is what it was."""
    first = 0 if r == 0 else ends[r - 1] + 1
    above, below, tallest = row_reach(
        tokens, first, ends[r], blocks.on_rail, blocks.up, blocks.down
    )
    return above == sums.above[r] and below == sums.below[r] and tallest == sums.tallest[r]


@inlined
def _repack(
    tokens: Ints, r: int, ends: Ints, blocks: Blocks, frame: Frame, placed: Placed
) -> tuple[float, int]:
    """Pack one row again; return what is missing in width and its rail pieces."""
    first = 0 if r == 0 else ends[r - 1] + 1
    return pack_row(tokens, first, ends[r], r, blocks, frame, placed)


@compiled
def _moved(
    tokens: Ints, r: int, ends: Ints, pull: Floats, draw: Floats, old: Placed, new: Placed,
    moved: Ints, count: int,
) -> tuple[float, int]:  # fmt: skip
    """List the blocks of a row that stand elsewhere than before: (change of pull, their number)."""
    change = 0.0
    x, ref, row = new.x, new.ref, new.row
    old_x, old_ref, old_row = old.x, old.ref, old.row
    first = 0 if r == 0 else ends[r - 1] + 1
    for k in range(first, ends[r]):
        b = tokens[k]
        if x[b] != old_x[b] or row[b] != old_row[b] or ref[b] != old_ref[b]:
            change += pull[b] * (ref[b] - old_ref[b]) + draw[b] * (x[b] - old_x[b])
            moved[count] = b
            count += 1
    return change, count


@compiled
def _wires_anew(
    moved: Ints, blocks: int, wiring: Wiring, frame: Frame, new: Placed, sums: RowSums,
    fresh: RowSums, touched: Ints,
) -> tuple[float, int]:  # fmt: skip
    """Measure the wires of blocks that moved: (change of wire length, number of wires)."""
    ends, spans, wire_first, wire_of = wiring.ends, wiring.spans, wiring.wire_first, wiring.wire_of
    x, ref, row, duct_axis = new.x, new.ref, new.row, new.duct_axis
    upright_x, hinge_x = frame.upright_x, frame.hinge_x
    mark, lengths, before = fresh.mark, fresh.wire, sums.wire
    change = 0.0
    count = 0
    for k in range(blocks):
        b = moved[k]
        for q in range(wire_first[b], wire_first[b + 1]):
            w = wire_of[q]
            if mark[w] == 0:
                mark[w] = 1
                touched[count] = w
                count += 1
                length = wire_length(w, ends, spans, x, ref, row, duct_axis, upright_x, hinge_x)
                lengths[w] = length
                change += length - before[w]
    for k in range(count):
        mark[touched[k]] = 0
    return change, count


@inlined
def _take(bad: float, cost: float, now: tuple[float, float], heat: float, state: Bits) -> bool:
    """Tell whether the walk goes on from the changed plate."""
    if bad != now[0]:
        if bad < now[0]:
            return True
        return now[0] > 0.0 and _share(state) < np.exp((now[0] - bad) / (0.1 * heat))
    return cost <= now[1] or _share(state) < np.exp((now[1] - cost) / heat)


@compiled
def _copy_moved(moved: Ints, count: int, source: Placed, target: Placed) -> None:
    """Copy where the blocks stand that moved."""
    x, ref, row = source.x, source.ref, source.row
    to_x, to_ref, to_row = target.x, target.ref, target.row
    for k in range(count):
        b = moved[k]
        to_x[b] = x[b]
        to_ref[b] = ref[b]
        to_row[b] = row[b]


@inlined
def _copy_zones(r: int, s: int, source: Placed, target: Placed) -> None:
    """Copy the voltage zones of the two rows that a move touched."""
    for k in range(3):
        target.zone[r, k] = source.zone[r, k]
        target.zone[s, k] = source.zone[s, k]


@compiled
def _copy_all(source: Placed, target: Placed, sums: RowSums, to: RowSums) -> None:
    """Copy a whole placing and its sums."""
    target.x[:] = source.x
    target.ref[:] = source.ref
    target.row[:] = source.row
    target.row_top[:] = source.row_top
    target.row_bottom[:] = source.row_bottom
    target.row_axis[:] = source.row_axis
    target.duct_axis[:] = source.duct_axis
    target.zone[:] = source.zone
    to.above[:] = sums.above
    to.below[:] = sums.below
    to.tallest[:] = sums.tallest
    to.short[:] = sums.short
    to.rails[:] = sums.rails
    to.wire[:] = sums.wire
    to.ends[:] = sums.ends


@compiled
def anneal(
    tokens: Ints,
    extra: Floats,
    blocks: Blocks,
    wiring: Wiring,
    frame: Frame,
    room: tuple[Placed, Placed, RowSums, RowSums],
    walk: tuple[int, float, float, int],
    best: tuple[Ints, Floats],
) -> tuple[float, float]:
    """Walk from (tokens, extra): ``walk`` is moves, first and last temperature in mm, and seed.

    Changes ``tokens`` and ``extra`` to where the walk ended and fills ``best`` (tokens, extra)
    with the best place met. Returns (violation, cost) of that best place.
    """
    old, new, sums, fresh = room
    moves, hot, cold, seed = walk
    best_tokens, best_extra = best
    state = np.empty(1, dtype=np.uint64)
    state[0] = np.uint64(seed) * np.uint64(2685821657736338717) + np.uint64(88172645463325252)
    for _ in range(8):
        _next(state)
    best_bad, best_cost, _ = evaluate(best_tokens, best_extra, blocks, wiring, frame, old, sums)
    now_bad, now_cost, _ = evaluate(tokens, extra, blocks, wiring, frame, old, sums)
    _copy_all(old, new, sums, fresh)
    if moves <= 0 or len(tokens) < 2:
        return best_bad, best_cost
    cooling = (cold / hot) ** (1.0 / moves)
    heat = hot
    trial, trial_extra = tokens.copy(), extra.copy()
    touched = np.empty(len(wiring.ends), dtype=np.int64)
    moved = np.empty(len(blocks.width), dtype=np.int64)
    ends = sums.ends.copy()
    has_wishes = frame.wish.shape[0] > 0
    wishes = wishes_missed(tokens, blocks, frame, old, sums.place)
    zones = zones_again(old.zone)
    warm = warmest(frame.hot, frame.air, blocks.width, old) if frame.w_cool > 0.0 else 0.0
    for _ in range(moves):
        heat *= cooling
        r, s = _change(trial, trial_extra, blocks, wiring, frame, state, sums.ends)
        row_ends(trial, blocks.free, ends)
        partly = r >= 0 and _keep_heights(trial, r, blocks, sums, ends)
        partly = partly and (s == r or _keep_heights(trial, s, blocks, sums, ends))
        count, blocks_moved = 0, 0
        missed, now_warm = wishes, warm
        if partly:
            short_r, rails_r = _repack(trial, r, ends, blocks, frame, new)
            bad = now_bad + short_r - sums.short[r]
            rails = rails_r - sums.rails[r]
            short_s, rails_s = short_r, rails_r
            if s != r:
                short_s, rails_s = _repack(trial, s, ends, blocks, frame, new)
                bad += short_s - sums.short[s]
                rails += rails_s - sums.rails[s]
            if abs(bad) < 1e-6:
                bad = 0.0
            pull, blocks_moved = _moved(
                trial, r, ends, blocks.pull, blocks.draw, old, new, moved, 0
            )
            if s != r:
                more, blocks_moved = _moved(
                    trial, s, ends, blocks.pull, blocks.draw, old, new, moved, blocks_moved
                )
                pull += more
            wire, count = _wires_anew(moved, blocks_moved, wiring, frame, new, sums, fresh, touched)
            cost = now_cost + frame.w_wire * wire + frame.w_rail * rails + pull
            if has_wishes:
                missed = wishes_missed(trial, blocks, frame, new, sums.place)
                cost += frame.w_wish * (missed - wishes)
            again = zones_again(new.zone)
            cost += frame.w_zone * (again - zones)
            if frame.w_cool > 0.0:
                now_warm = warmest(frame.hot, frame.air, blocks.width, new)
                cost += frame.w_cool * (now_warm - warm)
        else:
            bad, cost, _ = evaluate(trial, trial_extra, blocks, wiring, frame, new, fresh)
            missed = wishes_missed(trial, blocks, frame, new, sums.place)
            again = zones_again(new.zone)
            if frame.w_cool > 0.0:
                now_warm = warmest(frame.hot, frame.air, blocks.width, new)
        taken = _take(bad, cost, (now_bad, now_cost), heat, state)
        if partly and taken:
            for q in range(count):
                sums.wire[touched[q]] = fresh.wire[touched[q]]
            sums.short[r], sums.rails[r] = short_r, rails_r
            sums.short[s], sums.rails[s] = short_s, rails_s
            sums.ends[:] = ends
            _copy_moved(moved, blocks_moved, new, old)
            _copy_zones(r, s, new, old)
        elif taken:
            _copy_all(new, old, fresh, sums)
        elif partly:
            _copy_moved(moved, blocks_moved, old, new)
            _copy_zones(r, s, old, new)
        else:
            _copy_all(old, new, sums, fresh)
        if not taken:
            trial[:] = tokens
            trial_extra[:] = extra
            continue
        tokens[:] = trial
        extra[:] = trial_extra
        now_bad, now_cost, wishes, zones = bad, cost, missed, again
        warm = now_warm
        if bad < best_bad or (bad == best_bad and cost < best_cost - 1e-9):
            best_bad, best_cost = bad, cost
            best_tokens[:] = trial
            best_extra[:] = trial_extra
    return best_bad, best_cost
