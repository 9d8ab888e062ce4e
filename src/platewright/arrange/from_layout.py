"""Read a layout that is there as a sequence, so that the search can go on from it."""

from __future__ import annotations

import numpy as np

from platewright.arrange.arrays import Start
from platewright.arrange.task import DuctSizes, Standing, Task
from platewright.model.job import DuctStock, Stock
from platewright.model.layout import Duct, Layout


def _stock_of(duct: Duct, stock: Stock) -> DuctStock:
    """Return the stock a duct was cut from; one of its own size if the rack has none."""
    for kept in stock.ducts:
        if kept.name == duct.stock and kept.width == duct.width and kept.height == duct.height:
            return kept
    return DuctStock(
        name=duct.stock or f"{duct.width:g}x{duct.height:g}", width=duct.width, height=duct.height
    )


def sizes_in(layout: Layout, stock: Stock) -> DuctSizes | None:
    """Return the duct sizes of a layout in rows; ``None`` where its ducts make no rows."""
    standing = Standing(ducts=layout.ducts)
    if not standing.has_rows:
        return None
    inner_left = min(d.x for d in standing.across)
    inner_right = max(d.x + d.length for d in standing.across)
    left = right = middle = None
    for duct in standing.upright:
        centre = duct.x + duct.width / 2
        if centre <= inner_left:
            left = _stock_of(duct, stock)
        elif centre >= inner_right:
            right = _stock_of(duct, stock)
        else:
            middle = _stock_of(duct, stock)
    across = tuple(_stock_of(d, stock) for d in standing.across)
    return DuctSizes(across=across, left=left, right=right, middle=middle)


def sequence_in(task: Task, layout: Layout, rows: int) -> Start:
    """Return the free blocks in reading order of a layout; blocks it does not hold come last.

    A block belongs to the row whose ducts its head stands between.
    """
    across = Standing(ducts=layout.ducts).across
    found: list[list[tuple[float, int]]] = [[] for _ in range(rows)]
    for number, block in enumerate(task.blocks[: task.arrays.free]):
        at = layout.devices.get(block.head)
        if at is None:
            found[-1].append((float("inf"), number))
            continue
        middle = at.y + task.job.part_of(block.head).height / 2
        above = sum(duct.y > middle for duct in across)
        found[min(max(above - 1, 0), rows - 1)].append((at.x, number))
    tokens: list[int] = []
    for row, blocks in enumerate(found):
        tokens += [number for _, number in sorted(blocks)]
        if row < rows - 1:
            tokens.append(task.arrays.free + row)
    return Start(np.array(tokens, dtype=np.int64), np.zeros(rows))
