"""The plate with every hole to drill: one sign per tool, each hole with its tag."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Final, NamedTuple

from platewright.drawing.clip import clipped, is_crossed
from platewright.drawing.extent import text_box
from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Anchor, Circle, Line, Polyline, Primitive, Rect, Text
from platewright.fabricate.drill_names import combined_words, drill_name, foreign_words
from platewright.fabricate.stands_already import idle_marks, left_over
from platewright.fabricate.threads import (
    COMBINED,
    engaged_threads,
    fewest_threads,
    takes_combined,
)
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit
from platewright.model.layout import Hole, HoleKind, HoleState
from platewright.model.lengths import with_unit
from platewright.model.panel import Panel
from platewright.sheets.plate_picture import HOLE_LAYERS, centre_mark, ghost, plate_body
from platewright.tables.threads import thread

Tool = tuple[HoleKind, float, str]  # kind, drill, size
_Signed = Callable[[Point, Mm], Iterator[Primitive]]  # centre, radius -> a sign
SIDES: Final = (0, 4, 3, 6, 5, 8)  # 0: a circle
WORDS: Final = {
    HoleKind.TAPPED: "drill {drill}, tap {size}",
    HoleKind.CLEARANCE: "drill {drill} through, bolt and nut {size}",
    HoleKind.RIVET: "drill {drill}, rivet {size}",
    HoleKind.SELF_TAPPING: "drill {drill}, self-tapping screw {size}",
}
SIGN: Final = 0.45  # radius of a tool's sign, in heights of the lettering
NEAR: Final = 2.0  # a tag goes no farther, in its heights, to be clear of outlines
DONE: Final = "already drilled: do not drill"
LEFT_OVER: Final = "drilled and left over, holds nothing: leave it empty"
WIPE_OFF: Final = "marked for what is not there any more: wipe the mark off, do not drill"
LEAST_SIGN: Final = 0.4  # of a sign's radius; smaller it is not drawn
SHARE: Final = 0.4  # of the way to the next hole that a sign's radius takes: a corner reaches 1.25


def tools(panel: Panel) -> dict[Tool, tuple[str, ...]]:
    """Return the tags of the holes still to be made by tool, smallest drill first.

    Tags stand in reading order.
    """
    found: dict[Tool, list[str]] = {}
    for tag in sorted(panel.layout.holes, key=tag_order):
        hole = panel.layout.holes[tag]
        if hole.is_to_drill:
            found.setdefault((hole.kind, hole.drill, hole.size), []).append(tag)
    order = sorted(found, key=lambda tool: (tool[1], tool[0].value, tool[2]))
    return {tool: tuple(found[tool]) for tool in order}


def drilled(panel: Panel) -> tuple[str, ...]:
    """Return the tags of the holes that are there already and hold something, in reading order."""
    holes = panel.layout.holes
    done = (t for t in sorted(holes, key=tag_order) if holes[t].state is HoleState.DRILLED)
    return tuple(tag for tag in done if holes[tag].holds)


def tool_words(tool: Tool, unit: DisplayUnit) -> str:
    """Return what is done with a tool; a screw foreign to the job's unit is named as one."""
    kind, drill, size = tool
    words = WORDS[kind].format(drill=drill_name(drill, unit), size=size)
    foreign = foreign_words(size, unit)
    return f"{words} ({foreign})" if foreign else words


def sign(number: int, centre: Point, radius: Mm, layer: str) -> Iterator[Primitive]:
    """Yield the sign of the tool of that number: a circle, a square, a triangle."""
    sides = SIDES[number % len(SIDES)]
    if not sides:
        yield Circle(layer=layer, centre=centre, radius=radius)
        return
    start = math.pi / 2 + (math.pi / sides if sides % 2 == 0 else 0)
    turns = [start + 2 * math.pi * side / sides for side in range(sides)]
    reach = radius * 1.25
    yield Polyline(
        layer=layer,
        points=tuple(
            Point(centre.x + reach * math.cos(turn), centre.y + reach * math.sin(turn))
            for turn in turns
        ),
        closed=True,
    )


def hole_map(panel: Panel, *, lettering: Mm) -> tuple[Primitive, ...]:
    """Return the map at scale 1. ``lettering``: height of the holes' tags in plate mm."""
    body = tuple(plate_body(panel, lettering=lettering))
    parts: list[Primitive] = [
        *(part for part in body if part.layer == "PLATE"),
        *ghost(part for part in body if part.layer != "PLATE"),
        *(part for part in body if part.layer in ("DATUM", "FIXING", "KEEPOUT")),
        Text(layer="TAG", at=Point(0, -1.4 * lettering), text="datum 0, 0", size=lettering),
    ]
    radius = SIGN * lettering
    radii = _radii(panel.layout.holes, radius)
    for number, (tool, tags) in enumerate(tools(panel).items()):
        for tag in tags:
            hole = panel.layout.holes[tag]
            parts += sign(number, hole.centre, radii[tag], HOLE_LAYERS[tool[0]])
            parts += centre_mark(hole.centre, 0.45 * radii[tag], layer="HOLE-TAG")
    for tags, drawn, _ in _not_drilled_here(panel):
        for tag in tags:
            parts += drawn(panel.layout.holes[tag].centre, radii[tag])
    outlines = [part for part in parts if part.layer in ("GHOST", "PLATE", "KEEPOUT")]
    parts += _tags(panel.layout.holes, outlines, lettering, radius)
    return tuple(parts)


def _done(centre: Point, radius: Mm) -> Iterator[Primitive]:
    """Yield the sign of a hole that is there already: a grey ring without a centre mark."""
    yield Circle(layer="HOLE-DRILLED", centre=centre, radius=0.8 * radius)


def _left_over(centre: Point, radius: Mm) -> Iterator[Primitive]:
    """Yield the sign of a drilled hole that holds nothing: the same ring, struck through."""
    yield from _done(centre, radius)
    yield from _struck(centre, radius)


def _struck(centre: Point, radius: Mm) -> Iterator[Primitive]:
    """Yield the sign of a mark to wipe off: two lines that strike it through, without a ring."""
    for up in (1.0, -1.0):
        yield Line(
            layer="HOLE-DRILLED",
            start=Point(centre.x - radius, centre.y - up * radius),
            end=Point(centre.x + radius, centre.y + up * radius),
        )


def _not_drilled_here(panel: Panel) -> Iterator[tuple[tuple[str, ...], _Signed, str]]:
    """Yield the holes that no tool drills any more: their tags, their sign, its words."""
    yield drilled(panel), _done, DONE
    yield left_over(panel.layout), _left_over, LEFT_OVER
    yield idle_marks(panel.layout), _struck, WIPE_OFF


def _radii(holes: Mapping[str, Hole], radius: Mm) -> dict[str, Mm]:
    """Return how large each hole's sign is: smaller where another hole is so near that they'd meet.

    Signs of two holes that would meet even so stay large: too small ones can't be read.
    """
    places = [hole.centre for hole in holes.values()]
    found = {}
    for tag, hole in holes.items():
        x, y = hole.x, hole.y
        near = [p for p in places if p != hole.centre and abs(p.x - x) < radius / SHARE]
        ways = [SHARE * math.hypot(p.x - x, p.y - y) for p in near]
        found[tag] = min((radius, *(way for way in ways if way >= LEAST_SIGN * radius)))
    return found


def _tags(
    holes: Mapping[str, Hole], outlines: Iterable[Primitive], lettering: Mm, radius: Mm
) -> Iterator[Primitive]:
    """Yield a tag beside each hole, in the first place round it that is free, of lines too.

    One that stands off has a leader; leaders cross neither each other nor signs nor tags.
    """
    signs = {tag: _sign_box(hole.centre, radius) for tag, hole in holes.items()}
    drawn = tuple(outlines)
    edges = [line for part in drawn if part.layer == "PLATE" for line in _lines(part)]
    taken = [*signs.values(), *edges]
    lines = [line for part in drawn for line in _lines(part)]
    leaders: list[Line] = []
    for tag in sorted(holes, key=lambda tag: (-holes[tag].y, holes[tag].x, tag_order(tag))):
        centre = holes[tag].centre
        reach = 9 * radius + text_width(tag, lettering)
        near = [box for box in taken if box.distance_to(centre) < reach and box != signs[tag]]
        near_lines = [line for line in lines if line.distance_to(centre) < reach]
        text, box = _spot(tag, centre, radius, lettering, _Near(
            boxes=[*near, signs[tag]], lines=near_lines, others=near, leaders=leaders,
        ))  # fmt: skip
        taken.append(box)
        if _is_met(box, near_lines, lettering):
            yield Rect(layer="INTERRUPT", box=box)  # an outline stops at lettering
        yield text
        leader = _leader(box, centre, radius)
        if leader is not None:
            leaders.append(leader)
            yield leader


class _Near(NamedTuple):
    """What lies about a hole: signs and tags, outlines, those but its own sign, leaders."""

    boxes: list[Box]
    lines: list[Box]
    others: list[Box]
    leaders: list[Line]


def _spot(tag: str, centre: Point, radius: Mm, lettering: Mm, near: _Near) -> tuple[Text, Box]:
    """Return a tag and its box: the first free place, sooner one that is near and off outlines."""
    first: tuple[Text, Box] | None = None
    free: tuple[Text, Box] | None = None
    for text in _all_places(tag, centre, radius, lettering):
        box = text_box(text)
        first = first or (text, box)
        is_near = box.distance_to(centre) <= NEAR * lettering
        if free is not None and not is_near:
            continue
        if _is_met(box, near.boxes, lettering) or _crosses(
            box, centre, radius, near.others, near.leaders
        ):
            continue
        if is_near and not _is_met(box, near.lines, lettering):
            return text, box
        free = free or (text, box)
    if first is None:
        raise AssertionError
    return free or first


def _sign_box(centre: Point, radius: Mm) -> Box:
    return Box(centre.x, centre.y, centre.x, centre.y).grown(radius, radius, radius, radius)


def _all_places(tag: str, centre: Point, radius: Mm, lettering: Mm) -> Iterator[Text]:
    for reach in (1.5, 2.4, 3.6, 5.0, 6.5, 9.0):
        yield from _places(tag, centre, radius * reach, lettering)


def _is_met(box: Box, others: list[Box], lettering: Mm) -> bool:
    air = 0.15 * lettering
    grown = box.grown(air, air, air, air)
    return any(grown.overlaps(other) for other in others)


def _leader(box: Box, centre: Point, radius: Mm) -> Line | None:
    """Return the line from a hole to its tag's box; ``None``: they are near enough without."""
    if box.distance_to(centre) <= 2.2 * radius:
        return None
    return Line(layer="HOLE-TAG", start=centre, end=_nearest(box, centre))


def _crosses(box: Box, centre: Point, radius: Mm, others: list[Box], leaders: list[Line]) -> bool:
    """Tell whether a tag lies on a leader, or its own leader crosses a leader, sign or tag."""
    if any(clipped(one.start, one.end, box) is not None for one in leaders):
        return True
    own = _leader(box, centre, radius)
    if own is None:
        return False
    if any(clipped(own.start, own.end, other) is not None for other in others):
        return True
    return any(is_crossed(own, one) for one in leaders)


def _lines(part: Primitive) -> Iterator[Box]:
    """Yield thin boxes on what is drawn; a circle is kept clear of as a whole."""
    if isinstance(part, Circle):
        yield Box(part.centre.x, part.centre.y, part.centre.x, part.centre.y).grown(
            part.radius, part.radius, part.radius, part.radius
        )
    if not isinstance(part, Rect):
        return
    box, thin = part.box, 0.1
    yield Box(box.left, box.bottom, box.left + thin, box.top)
    yield Box(box.right - thin, box.bottom, box.right, box.top)
    yield Box(box.left, box.bottom, box.right, box.bottom + thin)
    yield Box(box.left, box.top - thin, box.right, box.top)


def _places(tag: str, centre: Point, reach: Mm, size: Mm) -> Iterator[Text]:
    slant = 0.75 * reach
    up = reach + 0.5 * size
    for dx, dy, anchor in (
        (reach, 0.0, Anchor.LEFT),
        (slant, slant + 0.2 * size, Anchor.LEFT),
        (slant, -slant - 0.2 * size, Anchor.LEFT),
        (0.0, up, Anchor.CENTRE),
        (0.0, -up, Anchor.CENTRE),
        (-reach, 0.0, Anchor.RIGHT),
        (-slant, slant + 0.2 * size, Anchor.RIGHT),
        (-slant, -slant - 0.2 * size, Anchor.RIGHT),
    ):
        yield Text(
            layer="HOLE-TAG",
            at=Point(centre.x + dx, centre.y + dy),
            text=tag,
            size=size,
            anchor=anchor,
        )


def _nearest(box: Box, point: Point) -> Point:
    return Point(min(max(point.x, box.left), box.right), min(max(point.y, box.bottom), box.top))


def legend(panel: Panel, at: Point, size: Mm) -> Iterable[Primitive]:
    """Yield the signs of the tools with their words, downwards from ``at``."""
    y = at.y
    start = at.x + 2.6 * size
    for number, (tool, tags) in enumerate(tools(panel).items()):
        yield from sign(number, Point(at.x + size, y), SIGN * size, HOLE_LAYERS[tool[0]])
        words = f"{tool_words(tool, panel.job.settings.units)}: {len(tags)} off"
        yield Text(layer="TEXT", at=Point(start, y), text=words, size=size)
        why = _short_why(panel, panel.layout.holes[tags[0]])
        after = start + text_width(words, size) + size
        yield Text(layer="NOTE", at=Point(after, y), text=why, size=size)
        y -= 2.0 * size
    for tags, drawn, words in _not_drilled_here(panel):
        if tags:
            yield from drawn(Point(at.x + size, y), SIGN * size)
            yield Text(
                layer="TEXT", at=Point(start, y), text=f"{words}: {len(tags)}", size=size, bold=True
            )
            y -= 2.0 * size


def _short_why(panel: Panel, hole: Hole) -> str:
    """Return the reason of ``why_so`` in as few words as can be."""
    held = _threads_held(panel, hole)
    size = thread(hole.size)
    if not held or size is None or not _takes_combined(panel, hole):
        return held
    most = with_unit(math.floor(10 * COMBINED * size.major) / 10, panel.job.settings.units)
    return f"{held}; combined bit: plate up to {most} (practice)"


def why_so(panel: Panel, hole: Hole) -> str:
    """Return why a hole is tapped: threads held, and whether a combined bit will do."""
    held, size = _threads_held(panel, hole), thread(hole.size)
    if not held or size is None or not _takes_combined(panel, hole):
        return held
    settings = panel.job.settings
    reason = combined_words(size, thickness=settings.plate.thickness, unit=settings.units)
    return f"{held}. Combined drill and tap will do: {reason}"


def _threads_held(panel: Panel, hole: Hole) -> str:
    plate, size = panel.job.settings.plate, thread(hole.size)
    if size is None or hole.kind is not HoleKind.TAPPED:
        return ""
    needed, _ = fewest_threads(plate.material)
    return f"{engaged_threads(size, plate.thickness):.1f} threads held, {needed:g} needed"


def _takes_combined(panel: Panel, hole: Hole) -> bool:
    plate, size = panel.job.settings.plate, thread(hole.size)
    return size is not None and takes_combined(
        size, thickness=plate.thickness, material=plate.material
    )


def legend_lines(panel: Panel) -> int:
    """Return how many lines the legend has."""
    signs = (drilled(panel), left_over(panel.layout), idle_marks(panel.layout))
    return len(tools(panel)) + sum(map(bool, signs))
