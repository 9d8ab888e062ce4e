"""Designations on the plate drawing: in the body where they fit, else above it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import groupby
from typing import Final

from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Anchor, Circle, Polyline, Primitive, Text
from platewright.drawing.spread import spread
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.layout import Run
from platewright.model.panel import Panel, body_box, envelope_box
from platewright.sheets.lettering_rules import PITCH, SAME, SMALL, fitted, interruption

SERIES: Final = 3  # so many narrow devices in the order of their numbers share one tag
SHIFTS: Final = (0, 1, -1, 2, -2, 3, -3, 4, -4, 6, -6, 8, -8)  # of tags, in their heights
TOUCHING: Final[Mm] = 1.0


def tags(panel: Panel, lettering: Mm, taken: tuple[Box, ...] = ()) -> Iterator[Primitive]:
    """Yield designations of devices and names of keep-outs. ``taken``: other lettering."""
    for row in rows(panel):
        fits: dict[str, Text | None] = {}
        for tag in row:
            body = _body(panel, tag)
            fits[tag] = fitted(tag, body, lettering) or fitted(tag, body, SMALL * lettering)
        for narrow, members in groupby(row, key=lambda tag: fits[tag] is None):
            group = tuple(members)
            if narrow:
                yield from _narrow(panel, row, group, SMALL * lettering, taken)
            else:
                yield from (text for tag in group if (text := fits[tag]) is not None)
    for keep_out in panel.job.settings.plate.keep_outs:
        words = (f"keep free: {keep_out.reason}", "keep free", keep_out.reason)
        texts = (fitted(word, keep_out.box, SMALL * lettering) for word in words if word)
        yield from [text for text in texts if text is not None][:1]


def rows(panel: Panel) -> tuple[tuple[str, ...], ...]:
    """Return device tags row by row from the bottom: bodies that overlap in y share a row."""
    boxes = {tag: _body(panel, tag) for tag in panel.layout.devices}
    found: list[list[str]] = []
    top = float("-inf")
    for tag in sorted(boxes, key=lambda tag: (boxes[tag].bottom, boxes[tag].left, tag)):
        if found and boxes[tag].bottom < top + SAME:
            found[-1].append(tag)
        else:
            found.append([tag])
        top = max(top, boxes[tag].top)
    return tuple(tuple(sorted(row, key=lambda tag: (boxes[tag].left, tag))) for row in found)


def _body(panel: Panel, tag: str) -> Box:
    return body_box(panel.job.part_of(tag), panel.layout.devices[tag])


def _envelope(panel: Panel, tag: str) -> Box:
    return envelope_box(panel.job.part_of(tag), panel.layout.devices[tag])


def _narrow(
    panel: Panel,
    row: tuple[str, ...],
    group: tuple[str, ...],
    size: Mm,
    taken: tuple[Box, ...],
) -> Iterator[Primitive]:
    """Yield tags of neighbours too narrow for them: one for a series, else each on a leader."""
    single: list[str] = []
    for series in _series(panel, group):
        box = _body(panel, series[0]).union(_body(panel, series[-1]))
        words = series[0] if len(series) == 1 else f"{series[0]} … {series[-1]}"
        if text_width(words, size) + 0.6 * size <= box.width:
            at = Point(box.centre.x, box.top + 1.1 * size)
            yield Text(layer="TAG", at=at, text=words, size=size, anchor=Anchor.CENTRE)
            if len(series) > 1:
                yield _bracket(box, size)
        else:
            single += series
    if single:
        yield from _on_leaders(panel, row, tuple(single), size, taken)


def _series(panel: Panel, group: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Yield runs of touching devices whose numbers follow each other; others one by one."""
    run: list[str] = []
    for tag in group:
        if run and not _follows(panel, run[-1], tag):
            yield from _told_apart(run)
            run = []
        run.append(tag)
    yield from _told_apart(run)


def _told_apart(run: list[str]) -> Iterator[tuple[str, ...]]:
    if len(run) >= SERIES:
        yield tuple(run)
    else:
        yield from ((tag,) for tag in run)


def _follows(panel: Panel, tag: str, after: str) -> bool:
    first, second = (re.fullmatch(r"(.*?)(\d+)", name) for name in (tag, after))
    return (
        first is not None
        and second is not None
        and first[1] == second[1]
        and int(second[2]) == int(first[2]) + 1
        and panel.job.devices[tag].part == panel.job.devices[after].part
        and _body(panel, after).left - _body(panel, tag).right < TOUCHING
    )


def _bracket(box: Box, size: Mm) -> Polyline:
    low, high = box.top + 0.15 * size, box.top + 0.4 * size
    return Polyline(
        layer="TAG",
        points=(
            Point(box.left, low),
            Point(box.left, high),
            Point(box.right, high),
            Point(box.right, low),
        ),
    )


def _on_leaders(
    panel: Panel,
    row: tuple[str, ...],
    group: tuple[str, ...],
    size: Mm,
    taken: tuple[Box, ...],
) -> Iterator[Primitive]:
    centres = [_envelope(panel, tag).centre.x for tag in group]
    tries = (_places(panel, row, group, size, shift * size) for shift in SHIFTS)
    knee, end, places = next(
        (
            found
            for found in tries
            if not any(
                _upright_box(tag, place, found[1], size).overlaps(other)
                for tag, place in zip(group, found[2], strict=True)
                for other in taken
            )
        ),
        _places(panel, row, group, size, 0.0),
    )
    for tag, centre, place in zip(group, centres, places, strict=True):
        top = _body(panel, tag).top
        yield Circle(layer="DATUM", centre=Point(centre, top - 0.5 * size), radius=0.16 * size)
        yield Polyline(
            layer="TAG",
            points=(Point(centre, top - 0.5 * size), Point(centre, knee), Point(place, end)),
        )
        yield from interruption(panel, _upright_box(tag, place, end, size))
        yield Text(
            layer="TAG", at=Point(place, end + 0.3 * size), text=tag, size=size, rotation=90.0
        )


def _places(
    panel: Panel, row: tuple[str, ...], group: tuple[str, ...], size: Mm, shift: Mm
) -> tuple[Mm, Mm, tuple[Mm, ...]]:
    """Return where the leaders jog, where they end, and the place of each tag."""
    plate = panel.job.settings.plate.box
    centres = [_envelope(panel, tag).centre.x for tag in group]
    wanted = [centre + shift for centre in centres]
    places = spread(wanted, PITCH * size, low=plate.left + size, high=plate.right - size)
    low, high = min(*places, *centres) - size, max(*places, *centres) + size
    envelopes = [_envelope(panel, tag) for tag in row]
    level = max(box.top for box in envelopes if box.right > low and box.left < high)
    knee = level + 0.3 * size
    longest = max(text_width(tag, size) for tag in group)
    return knee, _clear_of_edges(panel, knee + 1.2 * size, longest + 0.8 * size), places


def _upright_box(tag: str, place: Mm, end: Mm, size: Mm) -> Box:
    half, length = 0.6 * size, text_width(tag, size) + 0.6 * size
    return Box(place - half, end, place + half, end + length)


def _clear_of_edges(panel: Panel, start: Mm, length: Mm) -> Mm:
    """Return the level from which upright lettering crosses no edge of a duct above."""
    for duct in panel.layout.ducts.values():
        edge = duct.box.bottom
        if duct.run is Run.ACROSS and start < edge + SAME < start + length:
            return edge
    return start
