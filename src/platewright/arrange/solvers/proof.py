"""Prove the best plate of a small job by trying all of them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.arrange.arrays import Blocks, Frame, Start, Wiring, room_for, sums_for
from platewright.arrange.kernels.prove import least_of_all

_MOST_NODES: Final = 3_000_000  # beginnings of plates looked at
_MOST_SHARINGS: Final = 2_000_000  # ways to share the devices among the rows


@dataclass(frozen=True, slots=True)
class Proof:
    """What trying all plates in these rows gave.

    ``cost``: the least of any legal plate, or what was to be beaten if none is below it.
    ``start``: a plate of that cost, if one was found below.
    """

    cost: float
    start: Start | None
    nodes: int


def can_be_tried(data: tuple[Blocks, Wiring, Frame]) -> bool:
    """Tell whether the job is small and plain enough: all free, nothing in the way, no wishes."""
    blocks, _, frame = data
    in_the_way = frame.box.shape[0] > 0
    return (
        0 < blocks.free == len(blocks.width)
        and not in_the_way
        and frame.fixed == 0
        and frame.wish.shape[0] == 0
        and frame.w_cool == 0.0
        and not np.any(blocks.draw)
        and len(frame.upright_x) > 0
        and frame.rows**blocks.free <= _MOST_SHARINGS
    )


def least_cost(
    data: tuple[Blocks, Wiring, Frame], *, below: float = math.inf, nodes: int = _MOST_NODES
) -> Proof | None:
    """Return the least cost of all legal plates in these rows, rows standing close; or None.

    None: too large, something is in the way, or not all could be tried in so many nodes.
    ``below``: only plates that cost less are looked for; the cost of a plate that was found
    makes the proof much faster.
    """
    if not can_be_tried(data):
        return None
    blocks, wiring, frame = data
    best = np.zeros(blocks.free + frame.rows - 1, dtype=np.int64)
    room = (room_for(blocks, frame), sums_for(blocks, wiring, frame))
    cost, tried, done = least_of_all(blocks, wiring, frame, room, below, nodes, best)
    if not done:
        return None
    start = Start(best, np.zeros(frame.rows)) if cost < below else None
    return Proof(float(cost), start, int(tried))


def least_wire(
    data: tuple[Blocks, Wiring, Frame], *, below: float = math.inf, nodes: int = _MOST_NODES
) -> Proof | None:
    """Return the least wire length of all legal plates in these rows, mm, as ``least_cost``."""
    blocks, wiring, frame = data
    only_wire = frame._replace(
        w_wire=1.0,
        w_height=0.0,
        w_wish=0.0,
        w_rail=0.0,
        w_uprights=0.0,
        base=0.0,
        w_zone=0.0,
        w_cool=0.0,
    )
    no_pull = blocks._replace(pull=np.zeros(len(blocks.pull)), draw=np.zeros(len(blocks.pull)))
    return least_cost((no_pull, wiring, only_wire), below=below, nodes=nodes)
