"""Search for the order of devices in rows: probes of the row count, then long annealing runs.

Budgets count moves, so the same seed gives the same plate whatever the load on the machine.
Two runs go at once, on two cores. A few times on the way they meet, and both go on from where
the better one stands: at one temperature, the cheaper plate mostly ends cheaper. In the end the
better one wins, ties go to the earlier seed.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from copy import deepcopy
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

import numpy as np

from platewright.arrange.arrays import Blocks, Frame, Placed, Start, Wiring, room_for, sums_for
from platewright.arrange.kernels.anneal import anneal
from platewright.arrange.kernels.evaluate import evaluate_plainly
from platewright.foundation.compiled import Stopped, asking, runs_plain

HOT: Final = 1000.0  # mm of wire: the first temperature of a long run
COLD: Final = 5.0  # where it ends
_COOL: Final = 20.0  # where it ends with many blocks: below, moves win little and cost as much
WARM: Final = 150.0  # where a run that improves a found plate begins
_CHUNKS: Final = 40  # a run reports and can be stopped between chunks, at least so many,
_WORTH: Final = 500  # if each is worth so many moves
_CHUNK: Final = 5e6  # blocks times moves in one chunk at most: well below 0.2 s
_SEEDS: Final = 1_000_003  # between two runs' chunk seeds
_UPRIGHT: Final = 1.0  # what a box of the frame is that stands for an upright duct
_RUNS: Final = 2  # one a core
_FEW: Final = 30  # blocks
_LEGS: Final = 8  # of a run; the runs meet between them

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
    room -= sum(float(b[2] - b[0]) + frame.side_gap for b in frame.box if b[6] == _UPRIGHT)
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


class _Run:
    """One annealing run, in chunks of one cooling curve; reports after each."""

    def __init__(
        self, start: Start, data: tuple[Blocks, Wiring, Frame], *, moves: int,
        heat: tuple[float, float], seed: int, report: Report, seen: Seen | None,
    ) -> None:  # fmt: skip
        # its own: compiled code counts who uses an array, and two threads that count on the same
        # one wait for each other's caches; a move then takes twice as long
        self.data = blocks, wiring, frame = deepcopy(data)
        self.room = (
            room_for(blocks, frame),
            room_for(blocks, frame),
            sums_for(blocks, wiring, frame),
            sums_for(blocks, wiring, frame),
        )
        self.now = Start(start.tokens.copy(), start.extra.copy())
        self.best = Start(start.tokens.copy(), start.extra.copy())
        self.moves, self.heat, self.seed = moves, heat, seed
        self.report, self.seen = report, seen
        few = min(_CHUNKS, 1 + moves // _WORTH)
        self.chunks = max(few, math.ceil(moves * len(blocks.width) / _CHUNK))
        self.done = 0
        self.shown = (math.inf, math.inf)
        self.is_over = False

    def go(self, first: int, last: int) -> None:
        """Walk from one chunk to another, the last left out; stop where that is asked for."""
        blocks, wiring, frame = self.data
        hot, cold = self.heat
        ratio = (cold / hot) ** (1.0 / self.chunks)
        wire = self.found.wire
        for chunk in range(first, last):
            if self.is_over:
                return
            step = self.moves * (chunk + 1) // self.chunks - self.done
            seed = self.seed * _SEEDS + chunk
            walk = (step, hot * ratio**chunk, hot * ratio ** (chunk + 1), seed)

            def go_on(share: float = chunk / self.chunks, wire: float = wire) -> bool:
                return self.report(share, wire)

            try:
                with asking(go_on):
                    anneal(*self.now, blocks, wiring, frame, self.room, walk, self.best)
            except Stopped:
                self.is_over = True
                return
            self.done += step
            found = self.found
            wire = found.wire
            if self.seen is not None and (found.violation, found.cost) < self.shown:
                self.shown = (found.violation, found.cost)
                self.seen(found)
            self.is_over = not self.report((chunk + 1) / self.chunks, wire)

    @property
    def found(self) -> Found:
        """The best plate so far."""
        found, _ = priced(Start(self.best.tokens.copy(), self.best.extra.copy()), *self.data)
        return replace(found, moves=self.done)

    @property
    def price(self) -> tuple[float, float]:
        """What the plate is worth where the walk stands."""
        found, _ = priced(self.now, *self.data)
        return found.violation, found.cost

    def go_on_from(self, other: _Run) -> None:
        """Stand where another run stands."""
        self.now.tokens[:] = other.now.tokens
        self.now.extra[:] = other.now.extra


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
    is_large = data[0].free > _FEW
    cold = _COOL if is_large else COLD
    runs = [
        _Run(
            start, data, moves=max(0, moves // _RUNS), heat=(hot, cold), seed=seed * _RUNS + k + 1,
            report=report if k == 0 else (lambda _done, _wire: report(-1.0, _wire)), seen=seen,
        )
        for k in range(_RUNS)
    ]  # fmt: skip
    chunks = runs[0].chunks
    legs = _LEGS if is_large else 1  # a short walk had better be two
    meetings = [chunks * k // legs for k in range(legs + 1)]
    with ThreadPoolExecutor(_RUNS) as pool:
        for first, last in pairwise(meetings):
            list(pool.map(lambda run, a=first, b=last: run.go(a, b), runs))
            leader = min(runs, key=lambda run: run.price)
            for run in runs:
                if run is not leader:
                    run.go_on_from(leader)
    found = [run.found for run in runs]
    best = min(found, key=lambda f: (f.violation, f.cost))
    return replace(best, moves=sum(f.moves for f in found))
