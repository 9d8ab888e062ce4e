"""Neighbours in a row that are told together: alike, touching, too narrow for words of their own."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from platewright.drawing.picture import Polyline
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.panel import Panel, body_box
from platewright.sheets.lettering_rules import SAME

BRACKET: Final = 0.25  # its distance from the bodies, in heights of the lettering
LEAST: Final = 3  # fewer are told one by one


def bodies_of(panel: Panel, tags: tuple[str, ...]) -> Box:
    """Return the box around the bodies of neighbours."""
    first = body_box(panel.job.part_of(tags[0]), panel.layout.devices[tags[0]])
    return first.union(body_box(panel.job.part_of(tags[-1]), panel.layout.devices[tags[-1]]))


def alike(panel: Panel, row: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Yield a row, left to right, as runs of devices of one part that touch; others alone."""
    run: list[str] = []
    for tag in row:
        if run and not _touches(panel, run[-1], tag):
            yield tuple(run)
            run = []
        run.append(tag)
    if run:
        yield tuple(run)


def numbered(run: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Yield stretches whose numbers rise or fall one by one, ``LEAST`` or more; others alone."""
    start = 0
    while start < len(run):
        end, step = start + 1, 0
        while end < len(run):
            now = _step(run[end - 1], run[end])
            if now not in (1, -1) or (step and now != step):
                break
            step, end = now, end + 1
        if end - start >= LEAST:
            yield run[start:end]
            start = end
        else:
            yield (run[start],)
            start += 1


def bracket(box: Box, size: Mm, *, is_below: bool = False) -> Polyline:
    """Return a bracket over, or under, neighbours told together."""
    level, way = (box.bottom, -1) if is_below else (box.top, 1)
    near, far = level + way * 0.1 * size, level + way * BRACKET * size
    return Polyline(
        layer="TAG",
        points=(
            Point(box.left, near),
            Point(box.left, far),
            Point(box.right, far),
            Point(box.right, near),
        ),
    )


def _touches(panel: Panel, tag: str, after: str) -> bool:
    job, devices = panel.job, panel.layout.devices
    left, right = (body_box(job.part_of(one), devices[one]) for one in (tag, after))
    return (
        job.devices[tag].part == job.devices[after].part
        and abs(right.left - left.right) <= SAME
        and abs(right.bottom - left.bottom) <= SAME
    )


def _step(tag: str, after: str) -> int:
    first, second = (re.fullmatch(r"(.*?)(\d+)", name) for name in (tag, after))
    if first is None or second is None or first[1] != second[1]:
        return 0
    return int(second[2]) - int(first[2])
