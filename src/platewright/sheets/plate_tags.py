"""Designations on the plate drawing: in the body where they fit, else above it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from platewright.drawing.extent import text_box
from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Anchor, Circle, Polyline, Primitive, Text
from platewright.drawing.spread import spread
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.layout import Run
from platewright.model.panel import Panel, body_box, envelope_box
from platewright.sheets.lettering_rules import AIR, PITCH, SAME, fitted, fitted_lines, interruption
from platewright.sheets.row_series import BRACKET, alike, bodies_of, bracket, numbered
from platewright.sheets.staggered import Around, Hang, Wanted, beside_row
from platewright.sheets.word_faults import Drawn, bodies, drawn, word_faults

SHIFTS: Final = (0, 1, -1, 2, -2, 3, -3, 4, -4, 6, -6, 8, -8)  # of tags, in their heights
NEAR: Final = 1.5  # a level tag stands no farther from its device, else it is upright
JOG: Final = 1.2  # height of a leader's jog, in heights of the lettering


def tags(panel: Panel, lettering: Mm, before: Drawn) -> Iterator[Primitive]:
    """Yield designations of devices and names of keep-outs. ``before``: what they keep clear of."""
    outlines = bodies(panel)
    for whole in rows(panel):
        for row, left, right in compartments(panel, whole):
            fits = {tag: fitted(tag, _body(panel, tag), lettering) for tag in row}
            yield from (text for text in fits.values() if text is not None)
            groups = tuple(
                tuple(members)
                for narrow, members in groupby(row, key=lambda tag: fits[tag] is None)
                if narrow
            )
            room = Room(row=row, left=left, right=right)
            found = _in_lines(panel, room, groups, lettering, before)
            if word_faults(drawn(found), before, outlines):
                found = _staggered(panel, room, groups, lettering, before) or found
            before = before.with_more(found)
            yield from found
    for keep_out in panel.job.settings.plate.keep_outs:
        words = (f"keep free: {keep_out.reason}", "keep free", keep_out.reason)
        texts = (fitted_lines(word, keep_out.box, lettering) for word in words if word)
        yield from next((lines for lines in texts if lines), ())


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


def compartments(panel: Panel, row: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Mm, Mm]]:
    """Yield a row as its stretches between upright ducts: tags, and the room's left and right."""
    boxes = {tag: _body(panel, tag) for tag in row}
    low, high = min(b.bottom for b in boxes.values()), max(b.top for b in boxes.values())
    ducts = [duct.box for duct in panel.layout.ducts.values() if duct.run is Run.UPRIGHT]
    beside = [box for box in ducts if box.bottom < high and box.top > low]
    plate = panel.job.settings.plate.box

    def bounds(tag: str) -> tuple[Mm, Mm]:
        x = boxes[tag].centre.x
        return (
            max([box.right for box in beside if box.centre.x < x], default=plate.left),
            min([box.left for box in beside if box.centre.x > x], default=plate.right),
        )

    for (left, right), members in groupby(row, key=bounds):
        yield tuple(members), left, right


def _body(panel: Panel, tag: str) -> Box:
    return body_box(panel.job.part_of(tag), panel.layout.devices[tag])


def _envelope(panel: Panel, tag: str) -> Box:
    return envelope_box(panel.job.part_of(tag), panel.layout.devices[tag])


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A stretch of a row, and how far labels may go to its left and right."""

    row: tuple[str, ...]
    left: Mm
    right: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class _Label:
    """A tag, or first and last of a series, on a leader over the devices it names."""

    words: str
    box: Box  # of the bodies
    foot: Point  # where the leader begins
    is_series: bool
    is_level: bool

    def room(self, size: Mm) -> Mm:
        """Return the room it takes along the row."""
        return text_width(self.words, size) + AIR * size if self.is_level else PITCH * size

    def landing(self, place: Mm, size: Mm) -> Mm:
        """Return where on the row its leader ends: straight over its foot where words reach."""
        half = max(0.0, text_width(self.words, size) / 2 - 0.5 * size) if self.is_level else 0.0
        return min(max(self.foot.x, place - half), place + half)

    def height(self, size: Mm) -> Mm:
        """Return how high it reaches above its leader's end."""
        return 1.3 * size if self.is_level else text_width(self.words, size) + 0.6 * size

    def mark(self, size: Mm) -> Primitive:
        """Return what shows where its leader begins: a bracket over a series, else a dot."""
        if self.is_series:
            return bracket(self.box, size)
        return Circle(layer="DATUM", centre=self.foot, radius=0.16 * size)

    def text(self, place: Mm, end: Mm, size: Mm) -> Text:
        """Return the lettering on a leader that ends there."""
        if self.is_level:
            at = Point(place, end + 0.8 * size)
            return Text(layer="TAG", at=at, text=self.words, size=size, anchor=Anchor.CENTRE)
        at = Point(place, end + 0.3 * size)
        return Text(layer="TAG", at=at, text=self.words, size=size, rotation=90.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Placed:
    """Labels of a group with the levels at which their leaders jog and end."""

    labels: tuple[_Label, ...]
    places: tuple[Mm, ...]
    knee: Mm
    end: Mm

    def boxes(self, size: Mm) -> list[Box]:
        """Return the boxes of the lettering, a little air round each."""
        texts = (
            label.text(place, self.end, size)
            for label, place in zip(self.labels, self.places, strict=True)
        )
        air = 0.15 * size
        return [text_box(text).grown(air, air, air, air) for text in texts]

    def parts(self, panel: Panel, size: Mm) -> Iterator[Primitive]:
        """Yield marks, leaders and lettering."""
        for label, place in zip(self.labels, self.places, strict=True):
            foot = label.foot
            yield label.mark(size)
            jog = Point(foot.x, self.knee), Point(label.landing(place, size), self.end)
            yield Polyline(layer="TAG", points=(foot, *jog))
            text = label.text(place, self.end, size)
            yield from interruption(panel, text_box(text), 0.2 * size)
            yield text


def _in_lines(
    panel: Panel, room: Room, groups: tuple[tuple[str, ...], ...], size: Mm, before: Drawn
) -> tuple[Primitive, ...]:
    """Return tags of neighbours too narrow for them, each group of neighbours in one line."""
    found: tuple[Primitive, ...] = ()
    for group in groups:
        found += _placed(panel, room, group, size, before.with_more(found))
    return found


def _placed(
    panel: Panel, room: Room, group: tuple[str, ...], size: Mm, before: Drawn
) -> tuple[Primitive, ...]:
    """Return the line with the least faults, level before upright.

    Free of other lettering first, then off the ducts, then near the devices. Leaders never
    cross: labels stand in the order of their devices, moved apart as little as can be. They are
    written level where that moves none far, else upright, which takes less room.
    """
    ducts = [d.box for d in panel.layout.ducts.values() if d.run is Run.ACROSS]
    outlines = bodies(panel)
    best: tuple[tuple[int, bool, bool], tuple[Primitive, ...]] | None = None
    for shift in SHIFTS:
        for is_level in (True, False):
            labels = _labels(panel, group, size, is_level=is_level)
            way = _way(panel, room, labels, size, shift * size)
            parts = tuple(way.parts(panel, size))
            boxes = way.boxes(size)
            faults = (
                word_faults(drawn(parts), before, outlines),
                any(box.overlaps(duct) for box in boxes for duct in ducts),
                _moved(way) > NEAR * size and any(label.is_level for label in way.labels),
            )
            if best is None or faults < best[0]:
                best = faults, parts
            if not any(faults):
                return parts
    return best[1] if best else ()


def _staggered(
    panel: Panel, room: Room, groups: tuple[tuple[str, ...], ...], size: Mm, before: Drawn
) -> tuple[Primitive, ...]:
    """Return the tags of all groups of a row at staggered heights; none: that has no room."""
    labels = sorted(
        (label for group in groups for label in _labels(panel, group, size, is_level=False)),
        key=lambda label: label.foot.x,
    )
    wanted = [
        Wanted(foot=one.foot.x, width=text_width(one.words, size), is_series=one.is_series)
        for one in labels
    ]
    levels = {
        max(_envelope(panel, tag).top for group in groups for tag in group),
        max(_envelope(panel, tag).top for tag in room.row),
    }
    around = Around(
        left=room.left,
        right=room.right,
        blocked=(*bodies(panel), *before.boxes()),
        ducts=tuple(d.box for d in panel.layout.ducts.values() if d.run is Run.ACROSS),
    )
    found = beside_row(wanted, around, levels, size)
    if found is None:
        return ()
    parts: list[Primitive] = []
    for label, stand in zip(labels, found.stands, strict=True):
        anchor = Anchor.LEFT if stand.hang is Hang.UPRIGHT else Anchor.CENTRE
        box, rotation = stand.words, 90.0 if stand.hang is Hang.UPRIGHT else 0.0
        at = Point(box.centre.x, box.bottom) if rotation else box.centre
        text = Text(layer="TAG", at=at, text=label.words, size=size, anchor=anchor,
                    rotation=rotation)  # fmt: skip
        parts += (label.mark(size), Polyline(layer="TAG", points=found.leader(label.foot, stand)))
        parts += (*interruption(panel, box, 0.2 * size), text)
    return tuple(parts)


def _moved(way: _Placed) -> Mm:
    return max(abs(one.foot.x - at) for one, at in zip(way.labels, way.places, strict=True))


def _labels(
    panel: Panel, group: tuple[str, ...], size: Mm, *, is_level: bool
) -> tuple[_Label, ...]:
    labels = []
    for run in alike(panel, group):
        for series in numbered(run):
            box, many = bodies_of(panel, series), len(series) > 1
            foot = Point(box.centre.x, box.top + BRACKET * size)
            if not many:
                centre = _envelope(panel, series[0]).centre.x
                foot = Point(centre, box.top - 0.5 * min(size, box.height))
            words = f"{series[0]} … {series[-1]}" if many else series[0]
            labels.append(
                _Label(words=words, box=box, foot=foot, is_series=many, is_level=is_level or many)
            )
    return tuple(labels)


def _way(panel: Panel, room: Room, labels: tuple[_Label, ...], size: Mm, shift: Mm) -> _Placed:
    """Return the labels spread over their devices, or a shift beside."""
    rooms = [label.room(size) for label in labels]
    places = spread(
        [label.foot.x + shift for label in labels],
        rooms,
        low=room.left + rooms[0] / 2,
        high=room.right - rooms[-1] / 2,
    )
    feet = [label.foot.x for label in labels]
    low = min(*(at - wide / 2 for at, wide in zip(places, rooms, strict=True)), *feet)
    high = max(*(at + wide / 2 for at, wide in zip(places, rooms, strict=True)), *feet)
    envelopes = [_envelope(panel, tag) for tag in room.row]
    level = max(box.top for box in envelopes if box.right > low and box.left < high)
    knee = max(level + 0.3 * size, *(label.foot.y for label in labels))
    straight = all(
        abs(label.landing(at, size) - label.foot.x) <= SAME
        for at, label in zip(places, labels, strict=True)
    )
    end = knee + (0.3 if straight else JOG) * size
    height = max(label.height(size) for label in labels)
    return _Placed(labels=labels, places=places, knee=knee, end=_clear_of_edges(panel, end, height))


def _clear_of_edges(panel: Panel, start: Mm, length: Mm) -> Mm:
    """Return the level from which lettering crosses no edge of a duct above."""
    for duct in panel.layout.ducts.values():
        edge = duct.box.bottom
        if duct.run is Run.ACROSS and start < edge + SAME < start + length:
            return edge
    return start
