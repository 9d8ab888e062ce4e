"""Rows on the bare plate above and below ducts that stay: room for what comes after drilling.

Such a row has a duct on one side only; the wires of the other side run past their own device. So
it is opened only where the rows between ducts don't do, no higher than what may stand in it needs.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from platewright.arrange.arranger import Arrangement, from_layout
from platewright.arrange.task import Standing, Task
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import TOUCH
from platewright.model.job import Job
from platewright.model.layout import Layout

_LEAST: Final = 2  # ducts across that stay before there is an above and a below


def edges(job: Job) -> tuple[Mm, Mm]:
    """Return how high and how low something may stand on the plate."""
    plate = job.settings.plate
    return plate.height - plate.edge_margin, plate.edge_margin


def bare_heights(task: Task) -> tuple[Mm, Mm]:
    """Return how high the bare plate is above and below ducts that stay, margins left out."""
    real = Standing(ducts=task.standing.ducts).across
    if len(real) < _LEAST:
        return 0.0, 0.0
    top, bottom = edges(task.job)
    return max(0.0, top - real[0].box.top), max(0.0, real[-1].box.bottom - bottom)


def ways(task: Task) -> Iterator[Standing]:
    """Yield what stands with a row opened below, above, or both, where something fits in there."""
    standing = task.standing
    real = Standing(ducts=standing.ducts).across
    if len(real) < _LEAST:
        return
    free = range(task.arrays.free)
    top, low = real[0].box.top, real[-1].box.bottom
    bare = bare_heights(task)
    past = _past_the_room(task)
    above = _height(task, free, bare[0] + past[0]) if standing.open_above is None else 0.0
    below = _height(task, free, bare[1] + past[1]) if standing.open_below is None else 0.0
    if below:
        yield replace(standing, open_below=low - below)
    if above:
        yield replace(standing, open_above=top + above)
    if above and below:
        yield replace(standing, open_above=top + above, open_below=low - below)


def _past_the_room(task: Task) -> tuple[Mm, Mm]:
    """Return how far an open row may reach past the plate: nothing faces its far side.

    So much clear and wiring space some free block has above, and below, its envelope. That no
    envelope gets there the search sees to, for which the plate's edges are closed.
    """
    arrays = task.arrays
    over = (arrays.up - arrays.env_up)[: arrays.free]
    under = (arrays.down - arrays.env_down)[: arrays.free]
    return float(over.max(initial=0.0)), float(under.max(initial=0.0))


def _height(task: Task, blocks: Iterable[int], room: Mm) -> Mm:
    """Return how high a row for these blocks is, within the room; 0: none of them fits."""
    arrays = task.arrays
    fits = [b for b in blocks if float(arrays.up[b] + arrays.down[b]) <= room + TOUCH]
    if not fits:
        return 0.0
    rail = [b for b in fits if arrays.on_rail[b]]
    up = max((math.ceil(arrays.up[b]) for b in rail), default=0)
    down = max((math.ceil(arrays.down[b]) for b in rail), default=0)
    tallest = max((math.ceil(arrays.up[b] + arrays.down[b]) for b in fits), default=0)
    return float(min(max(up + down, tallest), room))


def kept_open(job: Job, standing: Standing, room: tuple[Mm, Mm]) -> Standing:
    """Return what stands with a row open wherever something stands above or below the ducts.

    ``room``: upper and lower end of the plate's room.
    """
    if len(standing.across) < _LEAST:
        return standing
    top, low = standing.across[0].box.top, standing.across[-1].box.bottom
    axes = [rail.y for rail in standing.rails.values()]
    axes += [at.y + job.part_of(tag).height / 2 for tag, at in standing.devices.items()]
    return replace(
        standing,
        open_above=room[0] if any(y > top for y in axes) and room[0] > top else None,
        open_below=room[1] if any(y < low for y in axes) and room[1] < low else None,
    )


def started(task: Task, layout: Layout) -> Arrangement | None:
    """Return a layout as an arrangement to search on from, open rows included; ``None``: no rows."""
    edges = [duct for duct in task.standing.across if duct.width == 0.0]
    ducts = {**layout.ducts, **{f"open row {n}": edge for n, edge in enumerate(edges)}}
    return from_layout(task, replace(layout, ducts=ducts))


def tightened(found: Arrangement, must: Standing) -> Standing:
    """Return what stands with the rows opened as high as what was found to stand in them needs.

    ``must``: what has to stay; a row that is open for its sake stays as it is.
    """
    task, standing = found.task, found.task.standing
    rows, last = found.placed.row, found.sizes.rows - 1
    real = Standing(ducts=standing.ducts).across

    def height(row: int, room: Mm) -> Mm:
        return _height(task, [b for b in range(task.arrays.free) if rows[b] == row], room)

    above, below = standing.open_above, standing.open_below
    if above is not None and must.open_above is None:
        high = height(0, above - real[0].box.top)
        above = real[0].box.top + high if high else None
    if below is not None and must.open_below is None:
        high = height(last, real[-1].box.bottom - below)
        below = real[-1].box.bottom - high if high else None
    return replace(standing, open_above=above, open_below=below)


def outside_ducts(job: Job, layout: Layout) -> tuple[str, ...]:
    """Return the devices above the uppermost or below the lowest duct across, by tag."""
    across = Standing(ducts=layout.ducts).across
    if len(across) < _LEAST:
        return ()
    top, low = across[0].box.top, across[-1].box.bottom
    middles = {tag: at.y + job.part_of(tag).height / 2 for tag, at in layout.devices.items()}
    return tuple(sorted((t for t, y in middles.items() if y > top or y < low), key=tag_order))
