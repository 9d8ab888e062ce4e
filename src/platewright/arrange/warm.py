"""Compile the search's kernels once, so that the first plan answers at once."""

from __future__ import annotations

import numpy as np

from platewright.arrange.arrays import Blocks, Frame, Start, Wiring
from platewright.arrange.solvers.search import search


def _floats(*values: float) -> np.ndarray:
    return np.array(values, dtype=np.float64)


def _ints(*values: int) -> np.ndarray:
    return np.array(values, dtype=np.int64)


def compile_kernels() -> None:
    """Run a search of two blocks; the compiled kernels are kept on disk."""
    two = _floats(10.0, 10.0)
    none = np.zeros(2)
    blocks = Blocks(
        free=2, width=two, clear_left=none, clear_right=none, up=two, down=two, env_up=two,
        env_down=two, front=two, on_rail=_ints(1, 1), groups=_ints(1, 1), pull=none, draw=none, x=none,
        ref=none,
    )  # fmt: skip
    wiring = Wiring(
        ends=_ints(0, 1, 0, 1).reshape(1, 4), spans=_floats(5.0, 5.0, 0.0, 0.0, 0.0).reshape(1, 5),
        first=_ints(0, 1, 2), partner=_ints(1, 0),
        wire_first=_ints(0, 1, 2), wire_of=_ints(0, 0),
    )  # fmt: skip
    frame = Frame(
        rows=1, left=0.0, right=100.0, top=100.0, bottom=0.0, duct=_floats(25.0, 25.0),
        upright_x=_floats(0.0), hinge_x=0.0, side_gap=0.0, group_gap=0.0, rail_min=10.0,
        usable=1.0, fixed=0, row_top=np.zeros(0), row_bottom=np.zeros(0), row_axis=np.zeros(0),
        box=np.zeros((0, 7)), shifts=0, wish=np.zeros((0, 3), dtype=np.int64), w_wire=1.0, w_height=1.0,
        w_wish=1.0, w_rail=1.0, w_uprights=0.0, base=0.0, w_zone=1.0,
        w_cool=0.0, hot=np.zeros((0, 11)), air=np.zeros(7), rail=np.zeros((0, 3)),
    )  # fmt: skip
    start = Start(_ints(0, 1), np.zeros(1))
    search(start, (blocks, wiring, frame), moves=100, seed=1, report=lambda _d, _w: True)


if __name__ == "__main__":
    compile_kernels()
