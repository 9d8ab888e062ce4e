"""Say below which wire length no plate in rows can come, and what that is worth.

Bounds here hold for every legal plate in the given number of rows with the given ducts, whatever
the order in the rows, the gaps, and the room added above rows. What proves them is told with
them: all plates tried (``proof``), or a program that every plate obeys (``row_model``). They say nothing of other numbers of rows or ducts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.arrange.arrays import Blocks, Frame, Wiring
from platewright.arrange.solvers.proof import least_wire
from platewright.arrange.solvers.row_model import rows_bound
from platewright.arrange.task import DuctSizes, Task, frame_for, wiring_for
from platewright.foundation.units import Mm

_NODES: Final = 2000
_WITH_HEIGHTS: Final = 130  # blocks times rows: the larger program is worth its time up to here
_AT_ALL: Final = 400  # blocks times rows
_TRY_ALL: Final = 10  # blocks: up to here, every plate can be tried
_PLATES: Final = 300_000  # beginnings of plates looked at for it
_ROUNDING: Final = 1e-5  # share taken off: the solver's tolerance, many times over


@dataclass(frozen=True, slots=True)
class Bound:
    """A wire length that no legal plate is below, and how that is known.

    Infinite: it is proven that no plate in these rows is legal.
    """

    value: Mm
    how: str

    def gap(self, wire: Mm) -> float:
        """Return by what share of ``wire`` the best plate might at most be shorter."""
        return max(0.0, 1.0 - self.value / wire) if wire > 0.0 else 0.0


def wire_bound(data: tuple[Blocks, Wiring, Frame]) -> Bound:
    """Return a lower bound on the wire length of any legal plate in these rows."""
    blocks, wiring, frame = data
    if blocks.free <= _TRY_ALL and bool(np.all(wiring.ends[:, 1] >= 0)):
        # room added above rows lengthens no wire but those to the door: none here
        proof = least_wire(data, nodes=_PLATES)
        if proof is not None:
            return Bound(proof.cost, "every plate in these rows was tried")
    size = blocks.free * frame.rows
    if blocks.free == 0 or size > _AT_ALL:
        return Bound(0.0, "none: too many devices to bound")
    heights = size <= _WITH_HEIGHTS
    value = rows_bound(data, heights=heights, nodes=_NODES)
    if value is None:
        return Bound(0.0, "none: the solver proved nothing")
    if math.isinf(value):
        return Bound(value, "these rows are too short for the devices, however they are shared")
    how = "best sharing of the devices among the rows, each wire at its least for it"
    if heights:
        how += ", rows as high as what is in them"
    return Bound(max(0.0, value * (1.0 - _ROUNDING)), how)


def lower_bound(task: Task, sizes: DuctSizes) -> Bound:
    """Return a lower bound on the wire length of any legal plate of a task with these ducts."""
    return wire_bound((task.arrays, wiring_for(task, sizes), frame_for(task, sizes)))
