"""Designations on the plate drawing: in the body where they fit, else above it on a leader."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby, pairwise
from typing import Final

from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Anchor, Circle, Polyline, Primitive, Text
from platewright.drawing.spread import spread
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.layout import Run
from platewright.model.panel import Panel, body_box, envelope_box

SMALL: Final = 0.72  # dense lettering as a share of the main lettering: 1.8 of 2.5
ROOM: Final = 0.45  # left free at each end of a tag, in heights of its lettering
SAME: Final[Mm] = 0.05
PITCH: Final = 1.45  # of lines of dense lettering beside each other


def tags(panel: Panel, lettering: Mm) -> Iterator[Primitive]:
    """Yield designations of devices, upright ducts and keep-outs."""
    yield from _device_tags(panel, lettering)
    yield from _upright_ducts(panel, lettering)
    for keep_out in panel.job.settings.plate.keep_outs:
        words = (f"keep free: {keep_out.reason}", "keep free", keep_out.reason)
        texts = (fitted(word, keep_out.box, SMALL * lettering) for word in words if word)
        yield from [text for text in texts if text is not None][:1]


def fitted(words: str, box: Box, size: Mm, *, layer: str = "TAG") -> Text | None:
    """Return lettering in the middle of a box, level or upright; ``None``: it does not fit."""
    long, high = text_width(words, size) + 2 * ROOM * size, size * (1 + ROOM)
    for rotation, across, up in ((0.0, box.width, box.height), (90.0, box.height, box.width)):
        if long <= across and high <= up:
            return Text(
                layer=layer,
                at=box.centre,
                text=words,
                size=size,
                anchor=Anchor.CENTRE,
                rotation=rotation,
            )
    return None


def rows(panel: Panel) -> tuple[tuple[str, ...], ...]:
    """Return device tags row by row from the bottom: bodies that overlap in y share a row."""
    boxes = {tag: body_box(panel.job.part_of(tag), at) for tag, at in panel.layout.devices.items()}
    found: list[list[str]] = []
    top = float("-inf")
    for tag in sorted(boxes, key=lambda tag: (boxes[tag].bottom, boxes[tag].left, tag)):
        if boxes[tag].bottom < top:
            found[-1].append(tag)
        else:
            found.append([tag])
        top = max(top, boxes[tag].top)
    return tuple(tuple(sorted(row, key=lambda tag: (boxes[tag].left, tag))) for row in found)


def _device_tags(panel: Panel, lettering: Mm) -> Iterator[Primitive]:
    for row in rows(panel):
        fits: dict[str, Text | None] = {}
        for tag in row:
            body = body_box(panel.job.part_of(tag), panel.layout.devices[tag])
            fits[tag] = fitted(tag, body, lettering) or fitted(tag, body, SMALL * lettering)
        for narrow, members in groupby(row, key=lambda tag: fits[tag] is None):
            group = tuple(members)
            if narrow:
                yield from _on_leaders(panel, row, group, SMALL * lettering)
            else:
                yield from (text for tag in group if (text := fits[tag]) is not None)


def _on_leaders(
    panel: Panel, row: tuple[str, ...], group: tuple[str, ...], size: Mm
) -> Iterator[Primitive]:
    def envelope(tag: str) -> Box:
        return envelope_box(panel.job.part_of(tag), panel.layout.devices[tag])

    if len(group) == 1 and text_width(group[0], size) < envelope(group[0]).width:
        box = envelope(group[0])  # wide and flat: the tag lies on it
        at = Point(box.centre.x, box.top + 0.9 * size)
        yield Text(layer="TAG", at=at, text=group[0], size=size, anchor=Anchor.CENTRE)
        return
    centres = [envelope(tag).centre.x for tag in group]
    places = spread(centres, PITCH * size)
    low, high = min(*places, *centres) - size, max(*places, *centres) + size
    level = max(box.top for box in map(envelope, row) if box.right > low and box.left < high)
    knee = level + 0.3 * size
    longest = max(text_width(tag, size) for tag in group)
    end = _clear_of_edges(panel, knee + 1.2 * size, longest + 0.8 * size)
    for tag, centre, place in zip(group, centres, places, strict=True):
        top = body_box(panel.job.part_of(tag), panel.layout.devices[tag]).top
        yield Circle(layer="DATUM", centre=Point(centre, top - 0.5 * size), radius=0.16 * size)
        yield Polyline(
            layer="TAG",
            points=(Point(centre, top - 0.5 * size), Point(centre, knee), Point(place, end)),
        )
        yield Text(
            layer="TAG", at=Point(place, end + 0.3 * size), text=tag, size=size, rotation=90.0
        )


def _clear_of_edges(panel: Panel, start: Mm, length: Mm) -> Mm:
    """Return the level from which upright lettering crosses no edge of a duct above."""
    for duct in panel.layout.ducts.values():
        edge = duct.box.bottom
        if duct.run is Run.ACROSS and start < edge + SAME < start + length:
            return edge
    return start


def _upright_ducts(panel: Panel, lettering: Mm) -> Iterator[Primitive]:
    """Yield names of upright ducts where no leader crosses them."""
    levels = {
        level
        for duct in panel.layout.ducts.values()
        if duct.run is Run.ACROSS
        for level in (duct.box.bottom, duct.box.centre.y, duct.box.top)
    }
    levels |= {rail.y for rail in panel.layout.rails.values() if rail.run is Run.ACROSS}
    for tag, duct in panel.layout.ducts.items():
        if duct.run is Run.UPRIGHT:
            box = duct.box
            crossed = sorted(
                {box.bottom, box.top} | {y for y in levels if box.contains(Point(box.left, y))}
            )
            _, low, high = max((b - a, a, b) for a, b in pairwise(crossed))
            free = Box(box.left, low, box.right, high)
            words = f"{tag}  {duct.width:g}×{duct.height:g}"
            text = fitted(words, free, lettering) or fitted(words, free, SMALL * lettering)
            if text is not None:
                yield text


def margin_tags(panel: Panel, lettering: Mm) -> Iterator[Primitive]:
    """Yield the names of ducts and rails that run across, in the margin on leaders."""
    named = [
        (Point(duct.box.right, duct.box.centre.y), words)
        for tag, duct in panel.layout.ducts.items()
        if duct.run is Run.ACROSS
        for words in [f"{tag}  {duct.width:g}×{duct.height:g}"]
    ]
    named += [
        (Point(rail.x + rail.length, rail.y), f"{tag}  {rail.profile}")
        for tag, rail in panel.layout.rails.items()
        if rail.run is Run.ACROSS
    ]
    named.sort(key=lambda item: (item[0].y, item[1]))
    edge = panel.job.settings.plate.width + 0.8 * lettering
    levels = spread([point.y for point, _ in named], PITCH * lettering)
    for (point, words), level in zip(named, levels, strict=True):
        end = edge + 1.6 * lettering
        yield Polyline(
            layer="ARROW",
            points=(
                point,
                Point(point.x + lettering, point.y + lettering / 6),
                Point(point.x + lettering, point.y - lettering / 6),
            ),
            closed=True,
        )
        yield Polyline(
            layer="TAG",
            points=(point, Point(edge, point.y), Point(end, level)),
        )
        yield Text(layer="TAG", at=Point(end + 0.4 * lettering, level), text=words, size=lettering)
