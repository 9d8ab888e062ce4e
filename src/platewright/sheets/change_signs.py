"""Signs and tags on what differs between two revisions: no tag lies on another, nor on a sign."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from platewright.drawing.clip import clipped, is_crossed
from platewright.drawing.extent import text_box
from platewright.drawing.picture import Anchor, Circle, Line, Primitive, Rect, Text
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.layout import HoleState
from platewright.model.panel import Panel
from platewright.sheets.changed_lists import WIPE_OFF, Change
from platewright.sheets.lettering_rules import fitted

RADIUS: Final[Mm] = 1.0  # of a sign, on paper
REACHES: Final = (1.6, 2.6, 4.0, 6.0, 8.5, 11.5, 15.0)  # of a tag from its hole, in radii
WAYS: Final = ((1, 0), (1, 1), (1, -1), (0, 1), (0, -1), (-1, 0), (-1, 1), (-1, -1))
ON_OUTLINE: Final = 1.5  # a tag goes so many reaches farther to be clear of outlines
ANCHORS: Final = {1: Anchor.LEFT, 0: Anchor.CENTRE, -1: Anchor.RIGHT}


def thing_tags(
    after: Panel, boxes: Mapping[str, Box], found: Sequence[Change], *, grown: float, lettering: Mm
) -> dict[str, Text]:
    """Return tags inside things that differ; one without room is left out, the list has it.

    ``boxes``: footprints by tag, plate mm. Rails and ducts keep off devices that stand on them, so
    that no tag reads as that of the device, where they have room elsewhere.
    """
    taken = _signs(after, found, RADIUS * grown)
    devices = {tag: box for tag, box in boxes.items() if tag in after.layout.devices}
    tags: dict[str, Text] = {}
    for tag in (*devices, *(tag for tag in boxes if tag not in devices)):
        others = [box for other, box in devices.items() if other != tag]
        for avoided in ((*taken, *others), tuple(taken)):
            texts = (fitted(tag, room, lettering) for room in _rooms(boxes[tag]))
            free = (t for t in texts if t and not any(text_box(t).overlaps(b) for b in avoided))
            text = next(free, None)
            if text is not None:
                tags[tag] = text
                taken.append(text_box(text))
                break
    return tags


def _rooms(box: Box) -> Iterator[Box]:
    """Yield a box, its halves, thirds and quarters: where a tag may stand in its middle."""
    for parts in (1, 2, 3, 4):
        wide, high = box.width / parts, box.height / parts
        for n in range(parts):
            yield Box(box.left + n * wide, box.bottom, box.left + (n + 1) * wide, box.top)
            yield Box(box.left, box.bottom + n * high, box.right, box.bottom + (n + 1) * high)


def _signs(after: Panel, found: Sequence[Change], radius: Mm) -> list[Box]:
    """Return boxes round all signs: rings of drilled holes, and holes that differ."""
    holes = [hole.centre for hole in after.layout.holes.values() if hole.state is HoleState.DRILLED]
    differ = [one.now or one.was for one in found if one.kind == "hole"]
    return [
        Box(p.x, p.y, p.x, p.y).grown(radius, radius, radius, radius)
        for p in (*holes, *differ)
        if p is not None
    ]


def hole_signs(
    after: Panel,
    found: Sequence[Change],
    drawn: Sequence[Primitive],
    *,
    grown: float,
    lettering: Mm,
) -> Iterator[Primitive]:
    """Yield a sign on every hole that differs, and the tags of those to drill and left over.

    ``drawn``: what tags keep clear of. ``grown``: plate mm for a mm of paper. ``lettering``: height
    of the tags, plate mm. A tag without room is left out: the list has it with its place.
    """
    size = RADIUS * grown
    for hole in after.layout.holes.values():
        if hole.state is HoleState.DRILLED:
            yield Circle(layer="BALLOON-OPEN", centre=hole.centre, radius=size)
    named: dict[str, Point] = {}
    for one in found:
        place = one.now or one.was
        if one.kind != "hole" or place is None:
            continue
        now = after.layout.holes.get(one.tag) if one.now else None
        is_to_drill = now is not None and now.is_to_drill
        if is_to_drill:
            yield Circle(layer="DATUM", centre=place, radius=size)
        if one.what in ("gone", "left over", WIPE_OFF):
            for sign in (1, -1):
                yield Line(
                    layer="BORDER",
                    start=Point(place.x - size, place.y - sign * size),
                    end=Point(place.x + size, place.y + sign * size),
                )
        if is_to_drill or one.what in ("new", "left over", WIPE_OFF):
            named[one.tag] = place
    plate = after.job.settings.plate.box
    signs = _signs(after, found, size)
    yield from _tags(named, signs, drawn, plate, radius=size, lettering=lettering)


def _tags(
    named: Mapping[str, Point],
    signs: Sequence[Box],
    drawn: Sequence[Primitive],
    plate: Box,
    *,
    radius: Mm,
    lettering: Mm,
) -> Iterator[Primitive]:
    taken = [*signs, *(text_box(part) for part in drawn if isinstance(part, Text))]
    outlines = [line for part in drawn for line in _outlines(part)]
    leaders: list[Line] = []
    for tag in sorted(named, key=lambda one: (-named[one].y, named[one].x, tag_order(one))):
        hole = named[tag]
        best: tuple[float, Text, Line | None, bool] | None = None
        for step, text in _places(tag, hole, radius, lettering):
            if best is not None and best[0] <= step:
                break  # all others lie farther
            box = _aired(text_box(text), lettering)
            leader = _leader(box, hole, radius)
            if not _inside(box, plate) or _is_met(box, leader, hole, taken, leaders):
                continue
            is_crossed_by = any(clipped(o.start, o.end, box) is not None for o in outlines)
            cost = step + (ON_OUTLINE if is_crossed_by else 0.0)
            if best is None or cost < best[0]:
                best = (cost, text, leader, is_crossed_by)
        if best is None:
            continue
        _, text, leader, is_on_outline = best
        taken.append(_aired(text_box(text), lettering))
        if leader is not None:
            leaders.append(leader)
            yield leader
        if is_on_outline:
            yield Rect(layer="INTERRUPT", box=text_box(text))  # an outline stops at lettering
        yield text


def _places(tag: str, hole: Point, radius: Mm, lettering: Mm) -> Iterator[tuple[int, Text]]:
    """Yield places round a hole, the nearest first, each with the number of its reach."""
    for step, reach in enumerate(REACHES):
        for across, up in WAYS:
            far = radius * reach * (0.75 if across and up else 1.0)
            rise = up * (far + (0.2 if across else 0.5) * lettering)
            yield step, Text(
                layer="HOLE-TAG", at=Point(hole.x + across * far, hole.y + rise), text=tag,
                size=lettering, anchor=ANCHORS[across],
            )  # fmt: skip


def _is_met(
    box: Box, leader: Line | None, hole: Point, taken: Sequence[Box], leaders: Sequence[Line]
) -> bool:
    """Tell whether a tag or its leader lies on a sign, a tag or a leader."""
    if any(box.overlaps(other) for other in taken):
        return True
    if any(clipped(one.start, one.end, box) is not None for one in leaders):
        return True
    if leader is None:
        return False
    # signs that lie on the hole itself, as one drilled beside its mark, can't be kept clear of
    others = (other for other in taken if not other.contains(hole))
    return any(clipped(leader.start, leader.end, other) is not None for other in others) or any(
        is_crossed(leader, one) for one in leaders
    )


def _leader(box: Box, hole: Point, radius: Mm) -> Line | None:
    """Return the line from a hole's sign to its tag; ``None``: they are near enough without."""
    if box.distance_to(hole) <= 2.0 * radius:
        return None
    end = Point(min(max(hole.x, box.left), box.right), min(max(hole.y, box.bottom), box.top))
    return Line(layer="HOLE-TAG", start=hole, end=end)


def _aired(box: Box, lettering: Mm) -> Box:
    air = 0.1 * lettering
    return box.grown(air, air, air, air)


def _inside(box: Box, plate: Box) -> bool:
    return plate.contains(Point(box.left, box.bottom)) and plate.contains(Point(box.right, box.top))


def _outlines(part: Primitive) -> Iterator[Line]:
    match part:
        case Line():
            yield part
        case Rect(layer=layer, box=box) if layer != "INTERRUPT":
            corners = (
                Point(box.left, box.bottom), Point(box.right, box.bottom),
                Point(box.right, box.top), Point(box.left, box.top),
            )  # fmt: skip
            for start, end in zip(corners, (*corners[1:], corners[0]), strict=True):
                yield Line(layer=layer, start=start, end=end)
