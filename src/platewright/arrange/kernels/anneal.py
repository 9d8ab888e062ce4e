"""Anneal a sequence of blocks: legal moves only once a legal plate is found.

A move lets two runs change places (``moves``), or devices of a kind (``kin``). What a guess shows to be much worse is dropped at
once (``guess``); so is what would not fit. Unless a move changes a row's height, only the two
rows it touches are packed again and only the wires of blocks that stand elsewhere are measured
again; else everything is.
"""

from __future__ import annotations

import numpy as np

from platewright.arrange.arrays import Blocks, Floats, Frame, Ints, Placed, RowSums, Wiring
from platewright.arrange.kernels.copies import (
    copy,
    copy_all,
    copy_moved,
    copy_rows,
    copy_run,
    copy_zones,
    same_zones,
)
from platewright.arrange.kernels.evaluate import (
    evaluate,
    pack_row,
    place,
    price,
    row_ends,
    row_reach,
    wire_length,
)
from platewright.arrange.kernels.guess import (
    all_slopes,
    difference,
    overflows,
    put_roughly,
    slopes_anew,
)
from platewright.arrange.kernels.kin import (
    MOST_PAIRS,
    Kins,
    all_twins,
    aside,
    draw_kin,
    put_kin,
    rows_of,
    swap_kin,
    tell_kin,
)
from platewright.arrange.kernels.moves import NONE, ROOM, draw, exchange
from platewright.arrange.kernels.warmth import warmest
from platewright.arrange.kernels.wishes import wishes_missed
from platewright.arrange.kernels.zones import zones_again
from platewright.foundation.compiled import compiled, lent
from platewright.foundation.random_bits import Bits, below, next_bits, share

_SHORT = 500.0  # mm of wire that a missing mm is worth on a warm walk; more as it cools
_COOLS = 500.0  # mm of wire: the temperature below which it is worth more
_ANY = 20.0  # mm: that something is missing at all counts as so many more
_KIN = 30  # of a hundred moves, so many let kin change places
_ROUNDING = 0.01  # mm that widths summed up may be off
_MARGIN = 1.0  # temperatures by which a guess must be too high for a move to be dropped


@lent
def _row_at(place: int, ends: Ints) -> int:
    """Return the row that a place of the sequence lies in."""
    row = 0
    while ends[row] < place:
        row += 1
    return row


@lent
def _row_start(r: int, ends: Ints) -> int:
    """Return the place in the sequence where a row begins."""
    return 0 if r == 0 else ends[r - 1] + 1


@lent
def _tell_places(tokens: Ints, at: Ints, first: int, last: int) -> None:
    """Tell where in the sequence those stand that stand from ``first`` to ``last``, left out."""
    for k in range(first, last):
        at[tokens[k]] = k


@lent
def _tell_pairs(pairs: Ints, count: int, at: Ints) -> None:
    """Tell where in the sequence pairs stand that have changed places."""
    for k in range(count):
        one, two = pairs[2 * k], pairs[2 * k + 1]
        at[one], at[two] = at[two], at[one]


@lent
def _has_end(tokens: Ints, i: int, length: int, free: int) -> bool:
    """Tell whether a run of tokens holds the end of a row."""
    found = False
    for k in range(i, i + length):
        found = found or tokens[k] >= free
    return found


@lent
def _keep_heights(tokens: Ints, r: int, blocks: Blocks, sums: RowSums, ends: Ints) -> bool:
    """Tell whether a row's reach is what it was."""
    first = _row_start(r, ends)
    above, below, tallest = row_reach(
        tokens, first, ends[r], blocks.on_rail, blocks.up, blocks.down
    )
    return above == sums.above[r] and below == sums.below[r] and tallest == sums.tallest[r]


@lent
def _are_too_full(
    tokens: Ints, rows: Ints, number: int, ends: Ints, blocks: Blocks, frame: Frame
) -> bool:
    """Tell whether some rows can't fit, whatever the gaps in them."""
    room = frame.right - frame.left - 2.0 * frame.side_gap + _ROUNDING
    width = blocks.width
    over = False
    for q in range(number):
        r = rows[q]
        wide = 0.0
        for k in range(_row_start(r, ends), ends[r]):
            wide += width[tokens[k]]
        over = over or wide > room
    return over


@lent
def _repack(
    tokens: Ints, r: int, ends: Ints, blocks: Blocks, frame: Frame, placed: Placed
) -> tuple[float, int]:
    """Pack one row again; return what is missing in width and its rail pieces."""
    first = _row_start(r, ends)
    return pack_row(tokens, first, ends[r], r, blocks, frame, placed)


@lent
def _moved(
    tokens: Ints, r: int, ends: Ints, pull: Floats, draw: Floats, old: Placed, new: Placed,
    moved: Ints, count: int,
) -> tuple[float, int]:  # fmt: skip
    """List the blocks of a row that stand elsewhere than before: (change of pull, their number)."""
    change = 0.0
    x, ref, row = new.x, new.ref, new.row
    old_x, old_ref, old_row = old.x, old.ref, old.row
    first = _row_start(r, ends)
    for k in range(first, ends[r]):
        b = tokens[k]
        if x[b] != old_x[b] or row[b] != old_row[b] or ref[b] != old_ref[b]:
            change += pull[b] * (ref[b] - old_ref[b]) + draw[b] * (x[b] - old_x[b])
            moved[count] = b
            count += 1
    return change, count


@lent
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


@lent
def _passes(more: float, heat: float, lot: float) -> bool:
    """Tell whether the walk goes on from a plate that costs so much more."""
    return more <= 0.0 or lot < np.exp(-more / heat)


@lent
def _lack(bad: float, heat: float) -> float:
    """Return what a plate is made dearer by what it lacks, while none is legal yet."""
    if bad <= 0.0:
        return 0.0
    return _SHORT * max(1.0, _COOLS / heat) * (bad + _ANY)


@lent
def _slack(missed: int, zones: int, frame: Frame) -> float:
    """Return what a move may be worth that no guess knows, mm of wire."""
    slack = 0.0
    if missed > 0:
        slack += frame.w_wish
    if zones > 0:
        slack += frame.w_zone
    return slack


@lent
def _wire_guess(
    moved: Ints, count: int, wiring: Wiring, frame: Frame, old: Placed, new: Placed,
    sums: RowSums, fresh: RowSums, touched: Ints,
) -> float:  # fmt: skip
    """Return what the wires of blocks cost that moved, as if nothing else did; put them back."""
    wire, _ = _wires_anew(moved, count, wiring, frame, new, sums, fresh, touched)
    copy_moved(moved, count, old, new)
    return frame.w_wire * wire


@lent
def _is_hopeless(
    tokens: Ints, move: tuple[int, int, int, int], wider: float, rows: tuple[int, int],
    blocks: Blocks, wiring: Wiring, frame: Frame, old: Placed, new: Placed, sums: RowSums,
    fresh: RowSums, moved: Ints, touched: Ints, chance: tuple[float, float, float],
) -> bool:  # fmt: skip
    """Tell whether a guess shows that a move can't be taken; ``chance``: slack, heat, lot.

    ``tokens``: before the move. Leaves ``new`` as it was.
    """
    slack, heat, lot = chance
    cost, count = put_roughly(tokens, move, wider, rows, blocks, frame, sums, old, new, moved)
    cost += _wire_guess(moved, count, wiring, frame, old, new, sums, fresh, touched)
    return not _passes(cost - slack - _MARGIN * heat, heat, lot)


@lent
def _walk(
    tokens: Ints, extra: Floats, blocks: Blocks, wiring: Wiring, frame: Frame,
    room: tuple[Placed, Placed, RowSums, RowSums], walk: tuple[int, float, float, int],
    best: tuple[Ints, Floats], scratch: tuple[Ints, Floats, Ints, Ints, Ints, Ints, Bits],
    kins: tuple[Kins, Ints, Ints],
) -> tuple[float, float]:  # fmt: skip
    """Walk as ``anneal`` says.

    ``scratch``: the sequence as it would be, with its room; wires and blocks that a move touches;
    where its rows end, and where each token stands; the random numbers. ``kins``: room for what
    ``tell_kin`` tells, for pairs, and for the rows that a move touches.
    """
    old, new, sums, fresh = room
    moves, hot, cold, _ = walk
    best_tokens, best_extra = best
    best_bad, best_cost, _ = evaluate(best_tokens, best_extra, blocks, wiring, frame, old, sums)
    now_bad, now_cost, _ = evaluate(tokens, extra, blocks, wiring, frame, old, sums)
    copy_all(old, new, sums, fresh)
    all_slopes(wiring, frame, old, sums)
    if moves <= 0 or len(tokens) < 2:
        return best_bad, best_cost
    cooling = (cold / hot) ** (1.0 / moves)
    heat = hot
    trial, trial_extra, touched, moved, ends, at, state = scratch
    kin, pairs, rows = kins
    _tell_places(tokens, at, 0, len(tokens))
    kin_share = _KIN if tell_kin(blocks, wiring, kin) else 0
    has_wishes = frame.wish.shape[0] > 0
    # where new holes or warmth count, a guess knows too little
    may_guess = frame.w_cool == 0.0 and frame.rail.shape[0] == 0
    wishes = wishes_missed(tokens, blocks, frame, old, sums.place)
    zones = zones_again(old.zone)
    warm = warmest(frame.hot, frame.air, blocks.width, old) if frame.w_cool > 0.0 else 0.0
    for _ in range(moves):
        heat *= cooling
        swapped, number = 0, 0  # pairs of kin; rows to be packed again
        i, one, j, two = 0, 0, 0, 0
        partly, stays = True, False
        copy(sums.ends, ends)
        # while something is missing, what lets it fit comes first: kin are of one size
        if now_bad == 0.0 and below(state, 100) < kin_share:
            swapped = draw_kin(blocks.free, wiring, old, kin, pairs, state)
        if swapped > 0:
            lot = share(state)
            stays = all_twins(pairs, swapped, kin.twin)
            if not stays:
                number = rows_of(pairs, swapped, old, rows)
                if may_guess and now_bad == 0.0:
                    guess, count = put_kin(pairs, swapped, blocks, old, new, moved)
                    guess += aside(pairs, swapped, trial, at, blocks, frame, old, sums)
                    guess += _wire_guess(
                        moved, count, wiring, frame, old, new, sums, fresh, touched
                    )
                    if not _passes(
                        guess - _slack(wishes, zones, frame) - _MARGIN * heat, heat, lot
                    ):
                        continue
            swap_kin(trial, at, pairs, swapped)
        else:
            i, one, j, two = draw(trial, trial_extra, at, blocks, wiring, frame, state)
            if i == NONE:
                continue
            lot = share(state)
            partly = i != ROOM
            over_ends = partly and (
                _has_end(trial, i, one, blocks.free) or _has_end(trial, j, two, blocks.free)
            )
            if over_ends:
                r, s = _row_at(i, sums.ends), _row_at(j + two, sums.ends)
                number = s - r + 1
                for k in range(number):
                    rows[k] = r + k
            elif partly:
                r, s = _row_at(i, sums.ends), _row_at(j, sums.ends)
                rows[0] = r
                number = 1
                if s != r:
                    rows[1] = s
                    number = 2
                wider = difference(trial, (i, one, j, two), blocks, old)
                if r != s and now_bad == 0.0:
                    grows = s if wider > 0.0 else r
                    if overflows(trial, grows, sums.ends, abs(wider), blocks, frame, old):
                        continue
                if may_guess and now_bad == 0.0 and _is_hopeless(
                    trial, (i, one, j, two), wider, (r, s), blocks, wiring, frame, old, new, sums,
                    fresh, moved, touched, (_slack(wishes, zones, frame), heat, lot),
                ):  # fmt: skip
                    continue
                for k in range(r, s):
                    ends[k] += two - one
            if i != ROOM:
                exchange(trial, i, one, j, two)
            if over_ends:
                row_ends(trial, blocks.free, ends)
                if now_bad == 0.0 and _are_too_full(trial, rows, number, ends, blocks, frame):
                    copy_run(tokens, trial, i, j + two)
                    continue
        same_height = partly
        # kin are as high as each other, and what changes places in a row stays in it
        for k in range(0 if swapped > 0 or number == 1 else number):
            same_height = same_height and _keep_heights(trial, rows[k], blocks, sums, ends)
        count, blocks_moved = 0, 0
        missed, now_warm, again = wishes, warm, zones
        cost = now_cost
        bad, rails, pull = now_bad, 0, 0.0
        if stays:
            pull, blocks_moved = put_kin(pairs, swapped, blocks, old, new, moved)
        elif same_height:
            for k in range(number):
                short, pieces = _repack(trial, rows[k], ends, blocks, frame, new)
                fresh.short[rows[k]], fresh.rails[rows[k]] = short, pieces
                bad += short - sums.short[rows[k]]
                rails += pieces - sums.rails[rows[k]]
            if abs(bad) < 1e-6:
                bad = 0.0
            for k in range(number):
                more, blocks_moved = _moved(
                    trial, rows[k], ends, blocks.pull, blocks.draw, old, new, moved, blocks_moved
                )
                pull += more
        else:
            bad, rails = place(trial, trial_extra, blocks, frame, new, fresh)
        taken = bad == 0.0 or now_bad > 0.0
        if taken:
            if same_height:
                wire, count = _wires_anew(
                    moved, blocks_moved, wiring, frame, new, sums, fresh, touched
                )
                cost = now_cost + frame.w_wire * wire + frame.w_rail * rails + pull
                if has_wishes:
                    missed = wishes_missed(trial, blocks, frame, new, sums.place)
                    cost += frame.w_wish * (missed - wishes)
                if not same_zones(rows, number, old, new):
                    again = zones_again(new.zone)
                cost += frame.w_zone * (again - zones)
                if frame.w_cool > 0.0:
                    now_warm = warmest(frame.hot, frame.air, blocks.width, new)
                    cost += frame.w_cool * (now_warm - warm)
            else:
                cost, _ = price(trial, rails, blocks, wiring, frame, new, fresh)
                missed = wishes_missed(trial, blocks, frame, new, sums.place)
                again = zones_again(new.zone)
                if frame.w_cool > 0.0:
                    now_warm = warmest(frame.hot, frame.air, blocks.width, new)
            lacks = _lack(bad, heat) - _lack(now_bad, heat)
            taken = _passes(cost - now_cost + lacks, heat, lot)
        if same_height and taken:
            for q in range(count):
                sums.wire[touched[q]] = fresh.wire[touched[q]]
            copy_rows(rows, number, fresh, sums)
            copy(ends, sums.ends)
            copy_moved(moved, blocks_moved, new, old)
            copy_zones(rows, number, new, old)
            slopes_anew(touched, count, wiring, frame, old, sums)
        elif taken:
            copy_all(new, old, fresh, sums)
            all_slopes(wiring, frame, old, sums)
        elif same_height:
            copy_moved(moved, blocks_moved, old, new)
            copy_zones(rows, number, old, new)
        else:
            copy_all(old, new, sums, fresh)
        if swapped > 0:
            if taken:
                swap_kin(tokens, at, pairs, swapped)
                _tell_pairs(pairs, swapped, at)
            else:
                swap_kin(trial, at, pairs, swapped)
        elif i == ROOM:
            if taken:
                copy(trial_extra, extra)
            else:
                copy(extra, trial_extra)
        elif taken:
            copy_run(trial, tokens, i, j + two)
            _tell_places(trial, at, i, j + two)
        else:
            copy_run(tokens, trial, i, j + two)
        if not taken:
            continue
        now_bad, now_cost, wishes, zones = bad, cost, missed, again
        warm = now_warm
        if bad < best_bad or (bad == best_bad and cost < best_cost - 1e-9):
            best_bad, best_cost = bad, cost
            copy(trial, best_tokens)
            copy(trial_extra, best_extra)
    return best_bad, best_cost


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
    seed = walk[3]
    state = np.empty(1, dtype=np.uint64)
    state[0] = np.uint64(seed) * np.uint64(2685821657736338717) + np.uint64(88172645463325252)
    for _ in range(8):
        next_bits(state)
    scratch = (
        tokens.copy(),
        extra.copy(),
        np.empty(len(wiring.ends), dtype=np.int64),
        np.empty(len(blocks.width), dtype=np.int64),
        room[2].ends.copy(),
        np.empty(len(tokens) + 1, dtype=np.int64),
        state,
    )
    kins = (
        Kins(
            np.empty(blocks.free, dtype=np.int64),
            np.empty(2 * blocks.free, dtype=np.int64),
            np.empty(blocks.free, dtype=np.int64),
            np.empty(blocks.free, dtype=np.int64),
            np.empty(blocks.free + 1, dtype=np.int64),
            np.empty(len(wiring.partner), dtype=np.int64),
        ),
        np.empty(2 * MOST_PAIRS, dtype=np.int64),
        np.empty(max(2, frame.rows), dtype=np.int64),
    )
    return _walk(tokens, extra, blocks, wiring, frame, room, walk, best, scratch, kins)
