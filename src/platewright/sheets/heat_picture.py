"""Temperature over the plate and from the side, in bands of grey: darker is warmer."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import numpy as np

from platewright.drawing.picture import Anchor, Line, Primitive, Rect, Text, placed
from platewright.foundation.units import DegC, Mm
from platewright.model.geometry import Box, Point
from platewright.model.heat import Field, Grid, PanelHeat
from platewright.model.panel import Panel, body_box
from platewright.sheets.lettering_rules import fitted

BANDS: Final = 9  # layers HEAT-0 … HEAT-8
STEPS: Final = (1.0, 2.0, 2.5, 5.0, 10.0, 20.0, 25.0, 50.0)
FINE: Final = 3  # cells drawn for one that was worked out
GAP: Final[Mm] = 6.0
LETTERING: Final[Mm] = 2.0
SEAM: Final = 0.15  # of a cell: rows overlap by it, so that no seam shows


def heat_picture(panel: Panel, heat: PanelHeat, *, width: Mm, height: Mm) -> tuple[Primitive, ...]:
    """Return plate and side view at one scale with their scale of temperature, to fit a space."""
    front, side = heat.front, heat.side
    legend = 22.0
    room = width - legend - 2 * GAP
    scale = min(room / (front.area.width + side.area.width), (height - 8) / front.area.height)
    low, step = _scale(heat)
    parts: list[Primitive] = []
    at = Point(-front.area.left * scale, -front.area.bottom * scale)
    bodies = tuple(_front_bodies(panel))
    parts += placed(_bands(front, low, step), at=at, scale=scale)
    parts += placed(bodies, at=at, scale=scale)
    parts += _tags(panel, at, scale)
    left = front.area.width * scale + GAP
    beside = Point(left, -side.area.bottom * scale)
    parts += placed(_bands(side, low, step), at=beside, scale=scale)
    parts += placed(_side_bodies(panel), at=beside, scale=scale)
    top = front.area.height * scale
    parts += _legend(Point(left + side.area.width * scale + GAP, 0.0), top, low, step)
    parts += _titles(top, left)
    return tuple(parts)


def _scale(heat: PanelHeat) -> tuple[DegC, float]:
    """Return the lowest bound and the step of the bands: round numbers that hold both views."""
    lowest = min(float(heat.front.values.min()), float(heat.side.values.min()))
    highest = max(float(heat.front.values.max()), float(heat.side.values.max()))
    for step in STEPS:
        low = math.floor(lowest / step) * step
        if low + BANDS * step >= highest:
            return low, step
    return math.floor(lowest / STEPS[-1]) * STEPS[-1], STEPS[-1]


def _bands(field: Field, low: DegC, step: float) -> Iterator[Primitive]:
    """Yield the bands from cool to warm, each drawn over the last, in runs along rows."""
    values = _finer(field.values)
    rows, columns = values.shape
    wide, high = field.area.width / columns, field.area.height / rows
    for band in range(BANDS):
        inside = values >= low + band * step if band else np.ones_like(values, dtype=bool)
        for row in range(rows):
            bottom = field.area.bottom + row * high
            top = min(field.area.top, bottom + high * (1 + SEAM))
            for first, last in _runs(inside[row]):
                box = Box(
                    field.area.left + first * wide, bottom, field.area.left + last * wide, top
                )
                yield Rect(layer=f"HEAT-{band}", box=box)


def _runs(flags: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> Iterator[tuple[int, int]]:
    """Yield first and last + 1 of each run of true flags."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], flags, [False])).astype(np.int8)))
    yield from zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True)


def _finer(values: Grid) -> Grid:
    """Return the field on finer cells, linear between the middles of its own."""
    rows, columns = values.shape
    x = (np.arange(columns * FINE) + 0.5) / FINE - 0.5
    y = (np.arange(rows * FINE) + 0.5) / FINE - 0.5
    across = np.stack([np.interp(x, np.arange(columns), row) for row in values])
    return np.stack([np.interp(y, np.arange(rows), across[:, k]) for k in range(x.size)], axis=1)


def _front_bodies(panel: Panel) -> Iterator[Primitive]:
    yield Rect(layer="HEAT-BODY", box=panel.job.settings.plate.box)
    for _, duct in sorted(panel.layout.ducts.items()):
        yield Rect(layer="HEAT-DUCT", box=duct.box)
    for tag, at in sorted(panel.layout.devices.items()):
        yield Rect(layer="HEAT-BODY", box=body_box(panel.job.part_of(tag), at))


def _side_bodies(panel: Panel) -> Iterator[Primitive]:
    """Yield the outlines of all devices and ducts as seen from the side."""
    for _, duct in sorted(panel.layout.ducts.items()):
        box = duct.box
        yield Rect(layer="HEAT-DUCT", box=Box(0.0, box.bottom, duct.height, box.top))
    for tag, at in sorted(panel.layout.devices.items()):
        part = panel.job.part_of(tag)
        yield Rect(layer="HEAT-BODY", box=Box(0.0, at.y, part.depth, at.y + part.height))
    plate = panel.job.settings.plate.box
    yield Line(layer="WALL", start=Point(0.0, plate.bottom), end=Point(0.0, plate.top))


def _tags(panel: Panel, at: Point, scale: float) -> Iterator[Primitive]:
    for tag, place in sorted(panel.layout.devices.items()):
        box = body_box(panel.job.part_of(tag), place)
        here = Box(
            at.x + box.left * scale, at.y + box.bottom * scale,
            at.x + box.right * scale, at.y + box.top * scale,
        )  # fmt: skip
        words = fitted(tag, here, LETTERING)
        if words is not None:
            yield words


def _legend(corner: Point, height: Mm, low: DegC, step: float) -> Iterator[Primitive]:
    size = min(8.0, (height - 6) / BANDS)
    for band in range(BANDS):
        box = Box(corner.x, corner.y + band * size, corner.x + 6, corner.y + (band + 1) * size)
        yield Rect(layer=f"HEAT-{band}", box=box)
        yield Rect(layer="HEAT-BODY", box=box)
        yield Text(
            layer="TEXT", at=Point(box.right + 1.5, box.bottom), text=f"{low + band * step:g} °C",
            size=LETTERING,
        )  # fmt: skip
    yield Text(
        layer="TEXT", at=Point(corner.x, corner.y + BANDS * size + 4), text="Air, °C",
        size=LETTERING, anchor=Anchor.LEFT, bold=True,
    )  # fmt: skip


def _titles(top: Mm, side: Mm) -> Iterator[Primitive]:
    for x, words in ((0.0, "Seen from the front"), (side, "Hottest column, from the side")):
        yield Text(layer="TEXT", at=Point(x, top + 3.5), text=words, size=LETTERING, bold=True)
