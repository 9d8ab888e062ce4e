"""Search for the order of devices in rows: probes of the row count, then long annealing runs.

Budgets count moves, so the same seed gives the same plate whatever the load on the machine.
Two runs go at once, on two cores; the better one wins, ties go to the earlier seed.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from platewright.arrange.arrays import Blocks, Frame, Placed, Start, Wiring, room_for, sums_for
from platewright.arrange.kernels.anneal import anneal
from platewright.arrange.kernels.evaluate import evaluate_plainly
from platewright.foundation.compiled import Stopped, asking, runs_plain

HOT: Final = 1500.0  # mm of wire: the first temperature of a long run
COLD: Final = 4.0
WARM: Final = 150.0  # where a run that improves a found plate begins
_CHUNKS: Final = 40  # a run reports and can be stopped between chunks, at least so many
_CHUNK: Final = 5e6  # blocks times moves in one chunk at most: well below 0.2 s
_SEEDS: Final = 1_000_003  # between two runs' chunk seeds
_RUNS: Final = 2  # independent runs, one a core

Report = Callable[[float, float], bool]  # (share done, best wire so far in mm) -> go on?


@dataclass(frozen=True, slots=True)
class Found:
    """The best sequence of a search, and what it is worth."""

    start: Start
    violation: float  # mm that are missing; 0 for a legal plate
    cost: float
    wire: float
    moves: int  # moves tried, all runs together


Seen = Callable[[Found], None]  # hears of each better sequence while the search goes on


def is_plain() -> bool:
    """Tell whether the search runs in plain Python so far, its compiled form not being there."""
    return runs_plain(anneal)


def priced(start: Start, blocks: Blocks, wiring: Wiring, frame: Frame) -> tuple[Found, Placed]:
    """Return a sequence with its price, and where it puts everything."""
    placed = room_for(blocks, frame)
    sums = sums_for(blocks, wiring, frame)
    violation, cost, wire = evaluate_plainly(
        start.tokens, start.extra, (blocks, wiring, frame), placed, sums
    )
    return Found(start, violation, cost, wire, 0), placed


def first_fit(order: list[int], blocks: Blocks, frame: Frame) -> Start:
    """Fill row by row in the given order; what fits nowhere stays in the last row."""
    room = (frame.right - frame.left) * frame.usable
    tokens: list[int] = []
    used, row, last = 0.0, 0, frame.side_gap
    for b in order:
        need = max(last, blocks.clear_left[b]) + blocks.width[b]
        tail = max(blocks.clear_right[b], frame.side_gap)
        if used + need + tail > room and row < frame.rows - 1 and used > 0.0:
            tokens.append(blocks.free + row)
            row += 1
            used, need = 0.0, max(frame.side_gap, blocks.clear_left[b]) + blocks.width[b]
        tokens.append(b)
        used += need
        last = blocks.clear_right[b]
    tokens.extend(blocks.free + r for r in range(row, frame.rows - 1))
    return Start(np.array(tokens, dtype=np.int64), np.zeros(frame.rows))


def _run(
    start: Start,
    data: tuple[Blocks, Wiring, Frame],
    *,
    moves: int,
    heat: tuple[float, float],
    seed: int,
    report: Report,
    seen: Seen | None,
) -> Found:
    """Anneal in chunks of one cooling curve, reporting after each."""
    blocks, wiring, frame = data
    room = (
        room_for(blocks, frame),
        room_for(blocks, frame),
        sums_for(blocks, wiring, frame),
        sums_for(blocks, wiring, frame),
    )
    tokens, extra = start.tokens.copy(), start.extra.copy()
    best = (start.tokens.copy(), start.extra.copy())
    hot, cold = heat
    chunks = max(_CHUNKS, math.ceil(moves * len(blocks.width) / _CHUNK))
    ratio = (cold / hot) ** (1.0 / chunks)
    done = 0
    shown = (math.inf, math.inf)
    found, _ = priced(start, *data)
    for chunk in range(chunks):
        step = moves * (chunk + 1) // chunks - done
        walk = (step, hot * ratio**chunk, hot * ratio ** (chunk + 1), seed * _SEEDS + chunk)

        def go_on(share: float = chunk / chunks, wire: float = found.wire) -> bool:
            return report(share, wire)

        try:
            with asking(go_on):
                anneal(tokens, extra, blocks, wiring, frame, room, walk, best)
        except Stopped:
            break
        done += step
        found, _ = priced(Start(*best), blocks, wiring, frame)
        if seen is not None and (found.violation, found.cost) < shown:
            shown = (found.violation, found.cost)
            seen(replace(found, start=Start(best[0].copy(), best[1].copy())))
        if not report((chunk + 1) / chunks, found.wire):
            break
    found, _ = priced(Start(best[0].copy(), best[1].copy()), blocks, wiring, frame)
    return Found(found.start, found.violation, found.cost, found.wire, done)


def search(
    start: Start,
    data: tuple[Blocks, Wiring, Frame],
    *,
    moves: int,
    hot: float = HOT,
    seed: int,
    report: Report,
    seen: Seen | None = None,
) -> Found:
    """Improve ``start`` with ``moves`` moves in all; the best of two runs comes back.

    The result is never worse than ``start``.
    """
    share = max(0, moves // _RUNS)

    def one(k: int) -> Found:
        return _run(
            start, data, moves=share, heat=(hot, COLD), seed=seed * _RUNS + k + 1,
            report=report if k == 0 else (lambda _done, _wire: report(-1.0, _wire)),
            seen=seen,
        )  # fmt: skip

    with ThreadPoolExecutor(_RUNS) as pool:
        runs = list(pool.map(one, range(_RUNS)))
    best = min(runs, key=lambda f: (f.violation, f.cost))
    return Found(best.start, best.violation, best.cost, best.wire, sum(f.moves for f in runs))
