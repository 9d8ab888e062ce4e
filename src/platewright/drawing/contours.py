"""Lines of equal value on a grid, and the regions at or above a value (marching squares).

Values are linear along the edges between two nodes. Where a cell is a saddle, its mean decides.
"""

from __future__ import annotations

from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from platewright.model.geometry import Path, Point

Floats: TypeAlias = NDArray[np.float64]
Edge: TypeAlias = tuple[int, int, int]  # 0 level, 1 upright; row and column of its first node
FAR: Final = 1e6  # below every value: what lies round the grid, so that every region closes

# corners of a cell: 1 lower left, 2 lower right, 4 upper right, 8 upper left, those at or above.
# Steps lead from side to side with the region on their left.
B, R, T, L = range(4)  # the sides of a cell: below, right, top, left
Steps: TypeAlias = tuple[tuple[int, int], ...]
STEPS: Final[dict[int, Steps]] = {
    1: ((B, L),), 2: ((R, B),), 3: ((R, L),), 4: ((T, R),), 6: ((T, B),), 7: ((T, L),),
    8: ((L, T),), 9: ((B, T),), 11: ((R, T),), 12: ((L, R),), 13: ((B, R),), 14: ((L, B),),
}  # fmt: skip
SADDLES: Final[dict[tuple[int, bool], Steps]] = {
    (5, True): ((B, R), (T, L)), (5, False): ((B, L), (T, R)),
    (10, True): ((L, B), (R, T)), (10, False): ((R, B), (L, T)),
}  # fmt: skip


def regions(x: Floats, y: Floats, values: Floats, level: float) -> tuple[Path, ...]:
    """Return the borders of where the values are at or above a level, as closed loops.

    The region lies on the left: outer borders run counter-clockwise, those of holes clockwise.
    ``values``: rows at ``y`` from below, columns at ``x`` from the left.
    """
    across, up = _ringed(x), _ringed(y)
    grid = np.pad(np.asarray(values, dtype=np.float64), 1, constant_values=-FAR)
    follows = _steps(grid, level)
    loops = []
    while follows:
        start = edge = next(iter(follows))
        loop = []
        while edge in follows:
            loop.append(_point(edge, across, up, grid, level))
            edge = follows.pop(edge)
        assert edge == start, "a border that does not close"  # noqa: S101
        loops.append(tuple(loop))
    return tuple(loops)


def lines(x: Floats, y: Floats, values: Floats, level: float) -> tuple[Path, ...]:
    """Return the lines at a level: the borders of its regions less what runs along the grid's edge."""
    found: list[Path] = []
    for loop in regions(x, y, values, level):
        outer = [_on_rim(a, b, x, y) for a, b in zip(loop, loop[1:] + loop[:1], strict=True)]
        if True not in outer:
            found.append((*loop, loop[0]))
            continue
        first = outer.index(True) + 1
        around = [*loop[first:], *loop[:first]]
        cut = [*outer[first:], *outer[:first]]
        piece = [around[0]]
        for point, is_outer in zip([*around[1:], around[0]], cut, strict=True):
            if is_outer:
                if len(piece) > 1:
                    found.append(tuple(piece))
                piece = []
            piece.append(point)
    return tuple(found)


def _ringed(places: Floats) -> Floats:
    """Return the places with first and last once more: the ring outside has no width."""
    return np.concatenate(([places[0]], places, [places[-1]]))


def _steps(grid: Floats, level: float) -> dict[Edge, Edge]:
    """Return which edge follows which along the borders."""
    above = (grid >= level).astype(np.int64)
    code = above[:-1, :-1] + 2 * above[:-1, 1:] + 4 * above[1:, 1:] + 8 * above[1:, :-1]
    mean = (grid[:-1, :-1] + grid[:-1, 1:] + grid[1:, 1:] + grid[1:, :-1]) / 4
    follows: dict[Edge, Edge] = {}
    for row, column in np.argwhere((code > 0) & (code < 15)).tolist():
        kind = int(code[row, column])
        pairs = STEPS.get(kind) or SADDLES[kind, bool(mean[row, column] >= level)]
        sides = ((0, row, column), (1, row, column + 1), (0, row + 1, column), (1, row, column))
        for one, other in pairs:
            follows[sides[one]] = sides[other]
    return follows


def _point(edge: Edge, x: Floats, y: Floats, grid: Floats, level: float) -> Point:
    """Return where the level is met on an edge."""
    upright, row, column = edge
    far_row, far_column = row + upright, column + 1 - upright
    one, other = grid[row, column], grid[far_row, far_column]
    share = float((level - one) / (other - one))
    return Point(
        float(x[column] + share * (x[far_column] - x[column])),
        float(y[row] + share * (y[far_row] - y[row])),
    )


def _on_rim(one: Point, other: Point, x: Floats, y: Floats) -> bool:
    """Return whether a step runs along an edge of the grid, or round its corner."""
    return (one.x == other.x and one.x in (x[0], x[-1])) or (
        one.y == other.y and one.y in (y[0], y[-1])
    )
