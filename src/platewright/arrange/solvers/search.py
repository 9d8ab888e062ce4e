"""Search for the order of devices in rows: probes of the row count, then long annealing runs.

Budgets count moves, so the same seed gives the same plate whatever the load on the machine.
Two runs go at once, on two cores. A few times on the way they meet, and both go on from where
the better one stands: at one temperature, the cheaper plate mostly ends cheaper. In the end the
better one wins, ties go to the earlier seed.

Which rows there are, and which voltage group stands on top, is decided while it is hot and hardly
ever changed later. So a search may begin at several plates, or several times at one: each has a
run of its own. Many times on the way a copy of each is cooled at once, which tells better than
its price while hot where it will end; the better half go on, each twice.
"""

from __future__ import annotations

import math
import threading
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from copy import deepcopy
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from platewright.arrange.arrays import Blocks, Frame, Placed, Start, Wiring, room_for, sums_for
from platewright.arrange.kernels.anneal import anneal
from platewright.arrange.kernels.evaluate import evaluate_plainly
from platewright.foundation.compiled import Stopped, asking, runs_plain

HOT: Final = 1000.0  # mm of wire: the first temperature of a long run
_COLD: Final = 5.0  # where it ends
_COOL: Final = 20.0  # where it ends with many blocks: below, moves win little and cost as much
WARM: Final = 150.0  # where a run that improves a found plate begins
_CHUNKS: Final = 40  # a run reports and can be stopped between chunks, at least so many,
_WORTH: Final = 2500  # if each is worth so many moves
_CHUNK: Final = 5e6  # blocks times moves in one chunk at most: well below 0.2 s
_SEEDS: Final = 1_000_003  # between two runs' chunk seeds
_UPRIGHT: Final = 1.0  # what a box of the frame is that stands for an upright duct
_RUNS: Final = 2  # one a core
_FEW: Final = 30  # blocks
_MISSING: Final = 500.0  # mm of wire that a mm of missing room is worth when plates are compared
_LEGS: Final = 8  # of a run; the runs meet between them
_FEW_LEGS, _MANY_LEGS = 8, 28  # of runs from several beginnings,
_LEG: Final = 200  # as many as leave each leg so many moves for every block
_FEWER: Final = (0.7, 0.85, 0.93)  # shares of the legs after which half as many runs go on
_TOLD_FROM: Final = 600.0  # mm of wire: hotter, a cooled copy does not tell where a run will end
_TRIAL_FROM: Final = 200.0  # where the cooling of a copy begins
_TRIAL: Final = 3  # times as many moves a leg has as the cooling of a copy

Report = Callable[[float, float], bool]  # (share done, best wire so far in mm) -> go on?


@dataclass(frozen=True, slots=True)
class Found:
    """The best sequence of a search, and what it is worth."""

    start: Start
    violation: float  # mm that are missing; 0 for a legal plate
    cost: float
    wire: float
    moves: int  # moves tried, all runs together

    @property
    def promise(self) -> float:
        """What it is worth while the search goes on.

        A little room that is missing is mostly found later, so it is priced here.
        """
        return self.cost + _MISSING * self.violation


# hears of each better sequence on the way, and which beginning it came from
Seen = Callable[[int, Found], None]


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


@dataclass(frozen=True, slots=True)
class Beginning:
    """Where a run may begin: a sequence, and the plate that it lies on."""

    start: Start
    data: tuple[Blocks, Wiring, Frame]


def coldest(blocks: Blocks) -> float:
    """Return the last temperature of a run, mm of wire."""
    return _COOL if blocks.free > _FEW else _COLD


def _copy(start: Start) -> Start:
    return Start(start.tokens.copy(), start.extra.copy())


def _heat_at(heat: tuple[float, float], share: float) -> float:
    """Return the temperature after a share of a cooling curve, mm of wire."""
    hot, cold = heat
    return float(hot * (cold / hot) ** share)


@dataclass(frozen=True, slots=True)
class _Cooling:
    """Moves along a cooling curve, in chunks."""

    moves: int
    heat: tuple[float, float]
    chunks: int

    def __getitem__(self, chunk: int) -> tuple[int, float, float]:
        """Return a chunk's moves, first and last temperature."""
        hot, cold = self.heat
        ratio = (cold / hot) ** (1.0 / self.chunks)
        step = self.moves * (chunk + 1) // self.chunks - self.moves * chunk // self.chunks
        return step, hot * ratio**chunk, hot * ratio ** (chunk + 1)


class _Told:
    """What all runs tell together: the share of the moves done, and the wire of the best plate."""

    def __init__(self, moves: int, report: Report) -> None:
        self._moves, self._report = max(1, moves), report
        self._lock = threading.Lock()  # the runs are on two threads; who is told is not
        self._done = 0
        self._best = (math.inf, math.inf, math.inf)

    def go_on(self, done: int = 0, found: Found | None = None) -> bool:
        """Hear of moves done and the best plate of a run; return whether to go on."""
        with self._lock:
            self._done += done
            if found is not None:
                self._best = min(self._best, (found.violation, found.cost, found.wire))
            return self._report(min(1.0, self._done / self._moves), self._best[2])


class _Run:
    """One annealing run, in chunks of one cooling curve; reports after each."""

    def __init__(
        self, number: int, beginning: Beginning, *, moves: int, legs: int,
        heat: tuple[float, float], seed: int, told: _Told, seen: Seen | None,
    ) -> None:  # fmt: skip
        self.moves, self.legs, self.heat, self.seed = moves, legs, heat, seed
        self.told, self.seen = told, seen
        few = max(legs, min(_CHUNKS, 1 + moves // _WORTH))
        self.chunks = max(few, math.ceil(moves * len(beginning.data[0].width) / _CHUNK))
        self.spent, self.leg = 0, 0  # moves, those of copies too; legs over
        self.shown = (math.inf, math.inf)
        self.is_over = False
        self.promise = math.inf  # what the plate is worth where the walk stands, after each leg
        self._stand(number, beginning.data, beginning.start, beginning.start)

    def _stand(
        self, number: int, data: tuple[Blocks, Wiring, Frame], now: Start, best: Start
    ) -> None:
        """Stand at a sequence of the beginning of that number."""
        self.number = number
        # its own: compiled code counts who uses an array, and two threads that count on the same
        # one wait for each other's caches; a move then takes twice as long
        self.data = blocks, wiring, frame = deepcopy(data)
        self.room = (
            room_for(blocks, frame),
            room_for(blocks, frame),
            sums_for(blocks, wiring, frame),
            sums_for(blocks, wiring, frame),
        )
        self.now, self.best = _copy(now), _copy(best)

    @property
    def warmth(self) -> float:
        """The temperature where the walk stands, mm of wire."""
        return _heat_at(self.heat, self.leg / self.legs)

    def go(self) -> None:
        """Walk one leg; stop where that is asked for."""
        cooling = _Cooling(self.moves, self.heat, self.chunks)
        prices: list[float] = []
        for chunk in range(
            self.chunks * self.leg // self.legs, self.chunks * (self.leg + 1) // self.legs
        ):
            if not self._anneal(self.now, self.best, cooling[chunk], chunk):
                return
            prices.append(priced(self.now, *self.data)[0].promise)
        self.leg += 1
        last = prices[len(prices) // 2 :]
        self.promise = sum(last) / len(last)

    def go_and_tell(self) -> None:
        """Walk one leg, and cool a copy at once: that tells where this will end."""
        self.go()
        if self.is_over or self.warmth > _TOLD_FROM:
            return
        moves = self.moves // self.legs // _TRIAL
        chunks = math.ceil(moves * len(self.data[0].width) / _CHUNK)
        heat = (min(_TRIAL_FROM, self.warmth), coldest(self.data[0]))
        cooling = _Cooling(moves, heat, chunks)
        now, best = _copy(self.now), _copy(self.now)
        for chunk in range(chunks):
            number = self.chunks * (self.leg + 1) + chunk
            if not self._anneal(now, best, cooling[chunk], number):
                break
        self.promise = priced(best, *self.data)[0].promise

    def _anneal(self, now: Start, best: Start, part: tuple[int, float, float], number: int) -> bool:
        """Anneal ``now`` for a part of a cooling; keep and tell of the best. Return whether to go on."""
        if self.is_over:
            return False
        blocks, wiring, frame = self.data
        walk = (*part, self.seed * _SEEDS + number)
        try:
            with asking(self.told.go_on):
                worth = anneal(*now, blocks, wiring, frame, self.room, walk, best)
        except Stopped:
            self.is_over = True
            return False
        self.spent += part[0]
        found = None
        if worth < self.shown:
            self.best = best if best is self.best else _copy(best)
            self.shown, found = worth, self.found
            if self.seen is not None:
                self.seen(self.number, found)
        self.is_over = not self.told.go_on(part[0], found)
        return not self.is_over

    @property
    def found(self) -> Found:
        """The best plate so far."""
        return replace(priced(_copy(self.best), *self.data)[0], moves=self.spent)

    def go_on_from(self, other: _Run) -> None:
        """Stand where another run stands."""
        self._stand(other.number, other.data, other.now, other.best)
        self.shown = other.shown


def _gone_on(beginnings: int, moves: int, blocks: int) -> list[int]:
    """Return how many runs from several beginnings go on, leg by leg."""
    legs = moves // (_LEG * beginnings * max(1, blocks))
    legs = min(_MANY_LEGS, max(_FEW_LEGS, legs))
    return [
        max(_RUNS, beginnings >> sum(leg >= int(share * legs) for share in _FEWER))
        for leg in range(legs)
    ]


def search_from_several(
    beginnings: Sequence[Beginning],
    *,
    moves: int,
    heat: tuple[float, float | None] = (HOT, None),
    seed: int,
    report: Report,
    seen: Seen | None = None,
) -> tuple[int, Found]:
    """Improve on beginnings with ``moves`` moves in all: (the best one's number, what was found).

    ``heat``: first and last temperature, mm of wire; None: as cold as is worth it. The result is
    never worse than any beginning.
    """
    blocks = beginnings[0].data[0]
    hot, cold = heat
    cold = coldest(blocks) if cold is None else cold
    few = _LEGS if blocks.free > _FEW else 1  # a short walk had better be two
    several = len(beginnings) > 1
    counts = _gone_on(len(beginnings), moves, blocks.free) if several else [_RUNS] * few
    legs = len(counts)
    ends = [_heat_at((hot, cold), (leg + 1) / legs) for leg in range(legs)]
    trials = [n for n, end in zip(counts, ends, strict=True) if several and end <= _TOLD_FROM]
    told = _Told(moves, report)
    runs = [
        _Run(
            k % len(beginnings), beginnings[k % len(beginnings)],
            moves=int(moves * legs / (sum(counts) + sum(trials) / _TRIAL)), legs=legs,
            heat=(hot, cold), seed=seed * _RUNS + k + 1, told=told, seen=seen,
        )
        for k in range(counts[0])
    ]  # fmt: skip
    begun = tuple(runs)
    left: list[tuple[int, Found]] = []
    with ThreadPoolExecutor(_RUNS) as pool:
        for leg, count in enumerate(counts):
            if leg > 0 and not (several and ends[leg - 1] > _TOLD_FROM):
                runs.sort(key=lambda run: run.promise)
                better = math.ceil(count / 2)
                left += [(run.number, run.found) for run in runs[better:]]
                runs = runs[:count]
                for k, run in enumerate(runs[better:]):
                    run.go_on_from(runs[k])
            list(pool.map(_Run.go_and_tell if several else _Run.go, runs))
    found = [*left, *((run.number, run.found) for run in runs)]
    number, best = min(found, key=lambda f: (f[1].violation, f[1].cost))
    return number, replace(best, moves=sum(run.spent for run in begun))


def search(
    start: Start,
    data: tuple[Blocks, Wiring, Frame],
    *,
    moves: int,
    hot: float = HOT,
    seed: int,
    report: Report,
) -> Found:
    """Improve on one beginning with ``moves`` moves; the result is never worse."""
    begin = Beginning(start, data)
    return search_from_several([begin], moves=moves, heat=(hot, None), seed=seed, report=report)[1]
