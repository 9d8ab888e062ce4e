"""The plate with every hole to drill: one sign per tool, each hole with its tag."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from platewright.drawing.extent import text_box
from platewright.drawing.lettering import text_width
from platewright.drawing.numbers import short
from platewright.drawing.picture import Anchor, Circle, Line, Polyline, Primitive, Rect, Text
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.layout import Hole, HoleKind
from platewright.model.panel import Panel
from platewright.sheets.lettering_rules import SMALL
from platewright.sheets.plate_picture import HOLE_LAYERS, centre_mark, ghost, plate_body
from platewright.sheets.tags import natural

Tool = tuple[HoleKind, float, str]  # kind, drill, size
SIDES: Final = (0, 4, 3, 6, 5, 8)  # 0: a circle
WORDS: Final = {
    HoleKind.TAPPED: "drill ⌀{drill} mm, tap {size}",
    HoleKind.CLEARANCE: "drill ⌀{drill} mm through, bolt and nut {size}",
    HoleKind.RIVET: "drill ⌀{drill} mm, rivet {size}",
    HoleKind.SELF_TAPPING: "drill ⌀{drill} mm, self-tapping screw {size}",
}


def tools(panel: Panel) -> dict[Tool, tuple[str, ...]]:
    """Return the tags of the holes by tool, smallest drill first; tags in reading order."""
    found: dict[Tool, list[str]] = {}
    for tag in sorted(panel.layout.holes, key=natural):
        hole = panel.layout.holes[tag]
        found.setdefault((hole.kind, hole.drill, hole.size), []).append(tag)
    order = sorted(found, key=lambda tool: (tool[1], tool[0].value, tool[2]))
    return {tool: tuple(found[tool]) for tool in order}


def tool_words(tool: Tool) -> str:
    """Return what is done with a tool."""
    kind, drill, size = tool
    return WORDS[kind].format(drill=short(drill, 2), size=size)


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
    body = tuple(plate_body(panel, lettering=lettering / SMALL))
    parts: list[Primitive] = [
        *(part for part in body if part.layer == "PLATE"),
        *ghost(part for part in body if part.layer != "PLATE"),
        *(part for part in body if part.layer in ("DATUM", "FIXING", "KEEPOUT")),
        Text(layer="TAG", at=Point(0, -1.4 * lettering), text="datum 0, 0", size=lettering),
    ]
    radius = 0.62 * lettering
    for number, (tool, tags) in enumerate(tools(panel).items()):
        for tag in tags:
            hole = panel.layout.holes[tag]
            parts += sign(number, hole.centre, radius, HOLE_LAYERS[tool[0]])
            parts += centre_mark(hole.centre, 0.45 * radius, layer="HOLE-TAG")
    outlines = [part for part in parts if part.layer in ("GHOST", "PLATE", "KEEPOUT")]
    parts += _tags(panel.layout.holes, outlines, lettering, radius)
    return tuple(parts)


def _tags(
    holes: Mapping[str, Hole], outlines: Iterable[Primitive], lettering: Mm, radius: Mm
) -> Iterator[Primitive]:
    """Yield a tag beside each hole, in the first place round it that is free, of lines too."""
    taken = [Box(h.x - radius, h.y - radius, h.x + radius, h.y + radius) for h in holes.values()]
    lines = [line for part in outlines for line in _lines(part)]
    for tag in sorted(holes, key=lambda tag: (-holes[tag].y, holes[tag].x, natural(tag))):
        centre = holes[tag].centre
        reach = 9 * radius + text_width(tag, lettering)
        near = [box for box in taken if box.distance_to(centre) < reach]
        near_lines = [line for line in lines if line.distance_to(centre) < reach]
        text = (
            _free_place(tag, centre, near + near_lines, (radius, lettering))
            or _free_place(tag, centre, near, (radius, lettering))
            or next(_places(tag, centre, radius * 1.5, lettering))
        )
        box = text_box(text)
        taken.append(box)
        yield text
        if box.distance_to(centre) > 2.2 * radius:
            yield Line(layer="HOLE-TAG", start=centre, end=_nearest(box, centre))


def _free_place(tag: str, centre: Point, taken: list[Box], sizes: tuple[Mm, Mm]) -> Text | None:
    radius, lettering = sizes
    air = 0.15 * lettering
    for reach in (1.5, 2.4, 3.6, 5.0, 6.5):
        for text in _places(tag, centre, radius * reach, lettering):
            box = text_box(text).grown(air, air, air, air)
            if not any(box.overlaps(other) for other in taken):
                return text
    return None


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
    for number, (tool, tags) in enumerate(tools(panel).items()):
        yield from sign(number, Point(at.x + size, y), 0.62 * size, HOLE_LAYERS[tool[0]])
        words = f"{tool_words(tool)}: {len(tags)} off"
        yield Text(layer="TEXT", at=Point(at.x + 2.6 * size, y), text=words, size=size)
        y -= 2.0 * size
