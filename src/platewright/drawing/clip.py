"""Straight lines cut off at the edges of a box."""

from __future__ import annotations

from platewright.drawing.picture import Line
from platewright.model.geometry import Box, Point


def clipped(start: Point, end: Point, box: Box) -> tuple[Point, Point] | None:
    """Return the part of a line that lies in a box; ``None``: no part (Liang and Barsky 1984)."""
    dx, dy = end.x - start.x, end.y - start.y
    enter, leave = 0.0, 1.0
    for rate, room in (
        (-dx, start.x - box.left),
        (dx, box.right - start.x),
        (-dy, start.y - box.bottom),
        (dy, box.top - start.y),
    ):
        if rate == 0:
            if room < 0:
                return None
            continue
        share = room / rate
        if rate < 0:
            enter = max(enter, share)
        else:
            leave = min(leave, share)
    if enter >= leave:
        return None
    return (
        Point(start.x + enter * dx, start.y + enter * dy),
        Point(start.x + leave * dx, start.y + leave * dy),
    )


def is_crossed(one: Line, other: Line) -> bool:
    """Tell whether two straight lines cross; lines that only touch or lie in one do not."""
    return (
        _turn(one.start, one.end, other.start) * _turn(one.start, one.end, other.end) < 0
        and _turn(other.start, other.end, one.start) * _turn(other.start, other.end, one.end) < 0
    )


def _turn(start: Point, end: Point, point: Point) -> float:
    """Return twice the area of a triangle: above 0 where it runs counter-clockwise."""
    return (end.x - start.x) * (point.y - start.y) - (end.y - start.y) * (point.x - start.x)
