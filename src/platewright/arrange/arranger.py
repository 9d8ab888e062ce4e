"""Arrange a plate: choose the rows, improve their order, and tell what cannot fit.

What the rest of the program calls. The search itself is in ``solvers``.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from platewright.arrange.arrays import Blocks, Frame, Placed, Start, Wiring
from platewright.arrange.build import layout_from
from platewright.arrange.from_layout import sequence_in, sizes_in
from platewright.arrange.kernels.warmth import warmest
from platewright.arrange.solvers.bounds import Bound, wire_bound
from platewright.arrange.solvers.search import (
    HOT,
    Beginning,
    Found,
    Report,
    first_fit,
    priced,
    search_from_several,
)
from platewright.arrange.solvers.windows import improve_windows
from platewright.arrange.task import (
    DuctSizes,
    Task,
    fewest_rows,
    frame_for,
    uniform_sizes,
    wiring_for,
)
from platewright.foundation.units import MM_PER_M, Metre, Mm
from platewright.model.job import DuctStock, MiddleDuct
from platewright.model.layout import Layout
from platewright.model.part import Mount

_WINDOW: Final = 6  # neighbours whose every order is tried
_MANY: Final = 150  # blocks: more get windows of one block less
_LAST: Final = 2  # when so few are left, what does not fit is ruled out
_MORE_ROWS: Final = 3  # row counts tried beyond the fewest

_Way = tuple[int, int]  # 1 or -1: groups from the top down or up, rail before screws or behind


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Arrangement:
    """A placed sequence with the duct sizes it was made for; one is equal only to itself."""

    task: Task
    sizes: DuctSizes
    found: Found
    placed: Placed
    frame: Frame

    @property
    def is_legal(self) -> bool:
        """Whether nothing is missing in width, height or zones."""
        return self.found.violation <= 1e-6

    @property
    def without_warmth(self) -> float:
        """The cost but for the estimate of the warmest housing, mm of wire."""
        frame = self.frame
        if frame.w_cool == 0.0:
            return self.found.cost
        return self.found.cost - frame.w_cool * warmest(
            frame.hot, frame.air, self.task.arrays.width, self.placed
        )

    @property
    def layout(self) -> Layout:
        """The arrangement as devices, ducts and rails."""
        return self.cut_at(self.task.job.settings.aims.cut_length)

    def cut_at(self, worth: Metre) -> Layout:
        """Return the layout with one different length of rail fewer worth so much."""
        inner = (float(self.frame.left), float(self.frame.right))
        return layout_from(self.task, self.sizes, self.placed, inner, cut_length=worth * MM_PER_M)


def _data(task: Task, sizes: DuctSizes) -> tuple[Blocks, Wiring, Frame]:
    return task.arrays, wiring_for(task, sizes), frame_for(task, sizes)


def _arrangement(task: Task, sizes: DuctSizes, start: Start, moves: int) -> Arrangement:
    data = _data(task, sizes)
    found, placed = priced(start, *data)
    return Arrangement(
        task=task, sizes=sizes, found=replace(found, moves=moves), placed=placed, frame=data[2]
    )


def _by_group(task: Task, way: _Way = (1, 1)) -> list[int]:
    """Return the free blocks by voltage group and how they are mounted (either way), kind, tag."""
    head = [task.job.part_of(b.head) for b in task.blocks[: task.arrays.free]]
    order = list(range(task.arrays.free))
    lowest = [int(g) & -int(g) for g in task.arrays.groups[: task.arrays.free]]
    screwed = [part.mount is not Mount.RAIL for part in head]
    groups, mounts = way
    return sorted(order, key=lambda b: (groups * lowest[b], mounts * screwed[b], head[b].kind, b))


def _ways(task: Task) -> list[_Way]:
    """Return the ways to sort the free blocks that differ."""
    arrays = task.arrays
    groups = len(set(arrays.groups[: arrays.free].tolist()) - {0})
    mounts = len(set(arrays.on_rail[: arrays.free].tolist()))
    turns = (1, -1)
    return [(g, m) for g in turns[: max(1, groups)] for m in turns[: max(1, mounts)]]


def _begun(task: Task, sizes: DuctSizes, way: _Way) -> Arrangement:
    """Return the plate that a search begins with: filled group by group."""
    start = first_fit(_by_group(task, way), task.arrays, frame_for(task, sizes))
    return _arrangement(task, sizes, start, 0)


def begun_anew(arrangement: Arrangement, number: int) -> Arrangement:
    """Return the same rows and ducts as a search begins with them, in one of the ways there are."""
    ways = _ways(arrangement.task)
    return _begun(arrangement.task, arrangement.sizes, ways[number % len(ways)])


def row_counts(task: Task, sizes: DuctSizes) -> range:
    """Return the numbers of rows worth trying: one only, where ducts that stay make the rows."""
    if task.standing.has_rows:
        rows = len(task.standing.across) - 1
        return range(rows, rows + 1)
    least = fewest_rows(task, sizes)
    return range(least, least + _MORE_ROWS + 1)


def _shapes(task: Task, stock: DuctStock, *, either: bool = False) -> list[DuctSizes]:
    """Return the row counts worth trying, with a middle duct where the job always wants it.

    ``either``: each with and without one, where the job leaves it open.
    """
    wanted = task.job.settings.middle_duct
    middles = [wanted is MiddleDuct.ALWAYS and not task.standing.has_rows]
    if either and wanted is MiddleDuct.WHERE_IT_PAYS and not task.standing.has_rows:
        middles = [False, True]
    rows = row_counts(task, uniform_sizes(task, 1, stock))
    return [uniform_sizes(task, r, stock, middle=middle) for r in rows for middle in middles]


def probe(
    task: Task, stock: DuctStock, *, moves: int, seed: int, report: Report, either: bool = False
) -> Arrangement:
    """Return the most promising of ``probes``."""
    return probes(task, stock, moves=moves, seed=seed, report=report, either=either, keep=1)[0]


def probes(
    task: Task, stock: DuctStock, *, moves: int, seed: int, report: Report, either: bool = False,
    keep: int,
) -> list[Arrangement]:  # fmt: skip
    """Try every sensible number of rows for a short while; return the most promising outcomes.

    Each begins with the voltage groups from the top down and from the bottom up, and with screwed
    devices before and behind the others of their group: what a search begins with in this is
    seldom left by small moves. All of it is among what is kept, if that is enough.

    ``either``: each with and without an upright duct in the middle, where the job leaves it open.
    All get the same moves, so that the duct and not the search decides. The more promising half
    is tried on, and so forth; in the end legal beats not legal, then the lower cost counts.
    """
    shapes = _shapes(task, stock, either=either)
    tried = [(way, _begun(task, sizes, way)) for sizes in shapes for way in _ways(task)]
    rounds = max(1, sum(len(tried) >> k > keep for k in range(len(tried).bit_length())))
    done, spent = 0.0, 0
    for _ in range(rounds):
        share = 1.0 / rounds / len(tried)
        for number, (way, arrangement) in enumerate(tried):

            def told(part: float, wire: Mm, done: float = done, share: float = share) -> bool:
                return report(done + share * part, wire)

            better = improve(arrangement, moves=int(moves * share), hot=HOT, seed=seed, report=told)
            spent += better.found.moves
            tried[number] = (way, better)
            done += share
        tried = _most_promising(tried, max(keep, len(tried) // 2))
    return [replace(a, found=replace(a.found, moves=spent)) for _, a in tried]


def _most_promising(
    tried: list[tuple[_Way, Arrangement]], keep: int
) -> list[tuple[_Way, Arrangement]]:
    """Return the best of what was tried; as many from each way to begin, but for one."""
    rank = _promise if len(tried) > _LAST else _worth
    ranked = sorted(tried, key=lambda t: rank(t[1]))
    each = math.ceil(keep / len({way for way, _ in ranked}))
    kept: list[tuple[_Way, Arrangement]] = []
    for way, arrangement in ranked:
        if sum(other == way for other, _ in kept) < each:
            kept.append((way, arrangement))
    return kept[:keep]


def _worth(arrangement: Arrangement) -> tuple[float, float, int]:
    return arrangement.found.violation, arrangement.found.cost, arrangement.sizes.rows


def _promise(arrangement: Arrangement) -> tuple[float, int]:
    """Rank a plate that has been searched for a short while only."""
    return arrangement.found.promise, arrangement.sizes.rows


def from_layout(task: Task, layout: Layout) -> Arrangement | None:
    """Return a layout in rows as an arrangement to search on from; ``None`` if it has no rows."""
    sizes = sizes_in(layout, task.job.settings.stock)
    if sizes is None:
        return None
    return _arrangement(task, sizes, sequence_in(task, layout, sizes.rows), 0)


def without_empty_rows(arrangement: Arrangement) -> Arrangement:
    """Return the arrangement with the rows taken out that hold nothing."""
    task = arrangement.task
    while arrangement.sizes.rows > 1 and not task.standing.has_rows:
        held = set(arrangement.placed.row.tolist())
        empty = [r for r in range(arrangement.sizes.rows) if r not in held]
        if not empty:
            break
        gone = empty[0]
        free = task.arrays.free
        old = arrangement.found.start
        ends = [k for k, token in enumerate(old.tokens) if token >= free]
        at = ends[min(gone, len(ends) - 1)]
        kept = [*old.tokens[:at], *old.tokens[at + 1 :]]
        names = iter(range(free, free + len(ends)))
        tokens = np.array([next(names) if t >= free else t for t in kept], dtype=np.int64)
        across = arrangement.sizes.across
        wide = max(across[gone], across[gone + 1], key=lambda d: d.width)
        sizes = replace(arrangement.sizes, across=(*across[:gone], wide, *across[gone + 2 :]))
        extra = np.delete(old.extra, gone)
        arrangement = _arrangement(task, sizes, Start(tokens, extra), arrangement.found.moves)
    return arrangement


@dataclass(frozen=True, slots=True)
class Explained:
    """What is proven of an arrangement."""

    window: int  # neighbours whose every order was tried
    proven: int  # windows that no other order beats, all else as it stands
    windows: int
    whole_rows: int  # rows whose whole order is proven
    wire: Mm  # along the ways, allowances for the ends left out
    bound: Bound  # no legal plate in these rows and ducts has less wire


def with_best_windows(arrangement: Arrangement) -> tuple[Arrangement, Explained]:
    """Put every few neighbours in their best order, and tell what is then proven.

    The arrangement that comes back is never worse.
    """
    task, sizes = arrangement.task, arrangement.sizes
    data = _data(task, sizes)
    size = _WINDOW if task.arrays.free <= _MANY else _WINDOW - 1
    start, report = improve_windows(arrangement.found.start, data, size=size)
    better = _arrangement(task, sizes, start, arrangement.found.moves)
    explained = Explained(
        window=size,
        proven=len(report.proven),
        windows=len(report.proven) + len(report.open),
        whole_rows=len(report.whole_rows),
        wire=better.found.wire,
        bound=wire_bound(data),
    )
    return better, explained


def resized(arrangement: Arrangement, sizes: DuctSizes) -> Arrangement:
    """Return the same sequence with other duct sizes, priced anew."""
    return _arrangement(arrangement.task, sizes, arrangement.found.start, 0)


def improve(
    *arrangements: Arrangement,
    moves: int,
    hot: float,
    cold: float | None = None,
    seed: int,
    report: Report,
    seen: Callable[[Arrangement], None] | None = None,
) -> Arrangement:
    """Search on from an arrangement, or from several and soon from the most promising one only.

    The result is never worse than the best of them. ``seen`` hears of each better one on the way,
    from two threads.
    """

    def told(number: int, found: Found) -> Arrangement:
        of = arrangements[number]
        return _arrangement(of.task, of.sizes, found.start, found.moves)

    hear = None if seen is None else (lambda number, found: seen(told(number, found)))
    beginnings = [Beginning(a.found.start, _data(a.task, a.sizes)) for a in arrangements]
    number, found = search_from_several(
        beginnings, moves=moves, heat=(hot, cold), seed=seed, report=report, seen=hear
    )
    return told(number, found)


def in_list_order(task: Task, sizes: DuctSizes) -> Arrangement:
    """Return the baseline: devices in list order, filled row by row, rows as many as it takes."""
    return in_order(task, sizes, [d.tag for d in task.job.on_plate])


def in_order(task: Task, sizes: DuctSizes, tags: Sequence[str]) -> Arrangement:
    """Return the plate of devices in a given order, filled row by row, rows as many as it takes."""
    rows = sizes.rows
    place = {tag: k for k, tag in enumerate(tags)}
    order = sorted(range(task.arrays.free), key=lambda b: place[task.blocks[b].head])
    best: Arrangement | None = None
    for count in range(rows, rows + 1 if task.standing.has_rows else 2 * rows + 4):
        across = sizes.across[:-1] + (sizes.across[-1],) * (count - rows + 1)
        tried = replace(sizes, across=across)
        data = _data(task, tried)
        start = first_fit(order, task.arrays, data[2])
        now = _arrangement(task, tried, start, 0)
        if best is None or now.found.violation < best.found.violation - 1e-6:
            best = now
    if best is None:  # the range is never empty
        raise AssertionError
    return best
