"""Prove, window by window, that no other order of neighbours is better; where one is, take it.

A window is a few neighbouring blocks of one row. All its orders are priced on the whole plate,
so what is proven is unconditional but local: with every other block where the sequence has it,
no order of these neighbours is better. It says nothing of moves over longer distances or into
other rows.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.arrange.arrays import Blocks, Frame, Start, Wiring, room_for, sums_for
from platewright.arrange.kernels.windows import best_order_of
from platewright.arrange.solvers.search import priced

LARGEST: Final = 9  # blocks: 9! orders a window
_USUAL: Final = 6
_DUST: Final = 1e-6  # mm: less is a rounding
_PASSES: Final = 6  # over all windows, before the search for changes is given up


@dataclass(frozen=True, slots=True)
class Window:
    """Neighbouring blocks of a row, from the left; rows count from the top, from 0."""

    row: int
    blocks: tuple[int, ...]
    is_whole_row: bool


@dataclass(frozen=True, slots=True)
class WindowReport:
    """What trying every order of every window gave.

    ``proven``: windows whose order no other order beats, with all else as in the returned
    sequence. ``open``: windows not tried since the last change; nothing is known of them.
    """

    size: int
    proven: tuple[Window, ...]
    open: tuple[Window, ...]
    changes: int
    cost_before: float
    cost_after: float

    @property
    def whole_rows(self) -> tuple[int, ...]:
        """Rows whose whole order is proven."""
        return tuple(w.row for w in self.proven if w.is_whole_row)


def _spans(start: Start, free: int, size: int) -> list[tuple[int, int, int, bool]]:
    """Return (row, first place, blocks, whole row?) of all windows of a sequence."""
    found: list[tuple[int, int, int, bool]] = []
    first, row = 0, 0
    for place, token in enumerate([*start.tokens.tolist(), free]):
        if token < free:
            continue
        count = place - first
        if 2 <= count <= size:
            found.append((row, first, count, True))
        else:
            found += [(row, k, size, False) for k in range(first, place - size + 1)]
        first, row = place + 1, row + 1
    return found


def improve_windows(
    start: Start, data: tuple[Blocks, Wiring, Frame], *, size: int = _USUAL
) -> tuple[Start, WindowReport]:
    """Put every window of ``size`` neighbours in its best order until none changes.

    The result is never worse than ``start``. Windows are gone through from the first on, again
    and again, until each has been tried since the last change, or for a set number of passes.
    """
    if not 2 <= size <= LARGEST:
        raise ValueError(f"windows of {size} blocks cannot be tried; 2 to {LARGEST} can")
    blocks, wiring, frame = data
    before, _ = priced(start, *data)
    tokens = start.tokens.copy()
    room = (room_for(blocks, frame), sums_for(blocks, wiring, frame))
    spans = _spans(start, blocks.free, size)
    changes, tried, fresh = 0, 0, 0
    while fresh < len(spans) and tried < _PASSES * len(spans):
        _, first, count, _ = spans[tried % len(spans)]
        if best_order_of(tokens, (first, count), start.extra, blocks, wiring, frame, room):
            changes += 1
            fresh = 0
        fresh += 1  # the changed window itself is in its best order
        tried += 1
    now = Start(tokens, start.extra.copy())
    after, _ = priced(now, *data)
    worse = after.violation - before.violation
    if worse > _DUST or (worse > -_DUST and after.cost > before.cost + _DUST):
        raise AssertionError(f"a window made the plate worse: {before.cost} to {after.cost}")
    known = {(tried - k - 1) % len(spans) for k in range(min(fresh, len(spans)))}
    windows = [
        Window(row, tuple(int(b) for b in np.array(tokens)[first : first + count]), whole)
        for row, first, count, whole in spans
    ]
    return now, WindowReport(
        size=size,
        proven=tuple(w for k, w in enumerate(windows) if k in known),
        open=tuple(w for k, w in enumerate(windows) if k not in known),
        changes=changes,
        cost_before=before.cost,
        cost_after=after.cost,
    )
