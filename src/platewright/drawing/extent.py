"""The smallest box around primitives, lettering included."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from platewright.drawing.flatten import baseline, flat_dimension, flat_ordinate
from platewright.drawing.lettering import text_width
from platewright.drawing.picture import (
    Anchor,
    Arc,
    Circle,
    Dimension,
    Line,
    Ordinate,
    Polyline,
    Primitive,
    Rect,
    Text,
)
from platewright.model.geometry import Box, Point


def extent(primitives: Iterable[Primitive]) -> Box:
    """Return the smallest upright box around everything; pens are left out of account."""
    corners = [corner for primitive in primitives for corner in _corners(primitive)]
    xs, ys = [corner.x for corner in corners], [corner.y for corner in corners]
    return Box(min(xs), min(ys), max(xs), max(ys))


def text_box(text: Text) -> Box:
    """Return the box of a line of lettering, from base line to capital height."""
    return extent((text,))


def _corners(primitive: Primitive) -> Iterator[Point]:
    match primitive:
        case Line(start=start, end=end):
            yield from (start, end)
        case Polyline(points=points):
            yield from points
        case Rect(box=box):
            yield from (Point(box.left, box.bottom), Point(box.right, box.top))
        case Circle(centre=centre, radius=radius) | Arc(centre=centre, radius=radius):
            yield Point(centre.x - radius, centre.y - radius)
            yield Point(centre.x + radius, centre.y + radius)
        case Text():
            yield from _text_corners(primitive)
        case Ordinate():
            for part in flat_ordinate(primitive):
                yield from _corners(part)
        case Dimension():
            for part in flat_dimension(primitive):
                yield from _corners(part)


def _text_corners(text: Text) -> Iterator[Point]:
    start = baseline(text)
    width = text_width(text.text, text.size, bold=text.bold)
    shift = {Anchor.LEFT: 0.0, Anchor.CENTRE: -width / 2, Anchor.RIGHT: -width}[text.anchor]
    if not text.rotation:  # nearly all are level
        yield from (Point(start.x + shift, start.y),
                    Point(start.x + shift + width, start.y + text.size))  # fmt: skip
        return
    turn = math.radians(text.rotation)
    for along in (shift, shift + width):
        for up in (0.0, text.size):
            yield Point(
                start.x + along * math.cos(turn) - up * math.sin(turn),
                start.y + along * math.sin(turn) + up * math.cos(turn),
            )
