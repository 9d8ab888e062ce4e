"""Tools led over the holes: few changes of tool, round the plate, a short way, no leaning across.

Each tool is taken up once. Who drills stands at an edge of the plate and does what is in reach
from there, then goes round to the next edge; the next tool begins where the last one ended.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from math import hypot
from typing import Final

from platewright.fabricate.solvers.drill_tour import drill_path
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import Point
from platewright.model.job import Plate
from platewright.model.layout import Hole, HoleKind, HoleState
from platewright.model.steps import Pass, Stand, StandAt, Work
from platewright.tables.tools import tool

RING: Final = (StandAt.BOTTOM, StandAt.RIGHT, StandAt.TOP, StandAt.LEFT)


def drill_passes(holes: Mapping[str, Hole], plate: Plate, *, reach: Mm) -> tuple[Pass, ...]:
    """Return the passes over all holes still to drill; a mark that holds nothing is none.

    Mark, pilot holes for the large ones, drills from small to large, taps from small to large.
    """
    todo = {tag: holes[tag] for tag in sorted(holes, key=tag_order)}
    todo = {tag: hole for tag, hole in todo.items() if hole.is_to_drill}
    passes: list[Pass] = []
    here, edge = Point(0.0, 0.0), StandAt.BOTTOM
    for work, diameter, size, tags in _tools(todo):
        stands = []
        way = 0.0
        for at, out, beyond in _round(
            {tag: todo[tag].centre for tag in tags}, plate, reach=reach, edge=edge
        ):
            order = drill_path([todo[tag].centre for tag in out], start=here)
            path = [here, *(todo[out[k]].centre for k in order)]
            way += sum(hypot(b.x - a.x, b.y - a.y) for a, b in pairwise(path))
            here, edge = path[-1], at
            done = tuple(out[k] for k in order)
            far = tuple(tag for tag in done if tag in beyond)
            stands.append(Stand(edge=at, holes=done, beyond=far))
        passes.append(
            Pass(
                work=work, diameter=diameter, size=size, stands=tuple(stands), way=way,
                pilot=work is Work.DRILL and all(todo[t].drill > diameter for t in tags),
            )
        )  # fmt: skip
    return tuple(passes)


def _tools(todo: Mapping[str, Hole]) -> Iterator[tuple[Work, Mm, str, tuple[str, ...]]]:
    """Yield each tool with the tags of its holes, in the order in which the tools are taken up."""
    unmarked = tuple(tag for tag, hole in todo.items() if hole.state is HoleState.PLANNED)
    if unmarked:
        yield Work.MARK, 0.0, "", unmarked
    large = tuple(tag for tag, hole in todo.items() if hole.drill > tool("pilot from"))
    if large:
        yield Work.DRILL, tool("pilot"), "", large
    for drill in sorted({hole.drill for hole in todo.values()}):
        tags = tuple(tag for tag, hole in todo.items() if hole.drill == drill)
        yield Work.DRILL, drill, "", tags
    tapped = {tag: hole for tag, hole in todo.items() if hole.kind is HoleKind.TAPPED}
    for drill, size in sorted({(hole.drill, hole.size) for hole in tapped.values()}):
        tags = tuple(
            tag for tag, hole in tapped.items() if (hole.drill, hole.size) == (drill, size)
        )
        yield Work.TAP, drill, size, tags


def _round(
    places: Mapping[str, Point], plate: Plate, *, reach: Mm, edge: StandAt
) -> Iterator[tuple[StandAt, tuple[str, ...], frozenset[str]]]:
    """Yield the edges to stand at, from the one nearest to ``edge`` on, with their holes.

    The fewest edges from which everything is in reach. What is in reach from none comes last and
    by itself: the plate is set up for it once, and nobody leans across.
    """
    edges = _edges(places, plate, reach)
    chosen: dict[StandAt, list[str]] = {at: [] for at in edges}
    beyond: list[str] = []
    for tag, place in places.items():
        away = {at: _away(place, plate, at) for at in edges}
        nearest = min(edges, key=lambda at: (away[at], RING.index(at)))
        if away[nearest] > reach:
            beyond.append(tag)
        else:
            chosen[nearest].append(tag)
    first = min(edges, key=lambda at: (RING.index(at) - RING.index(edge)) % len(RING))
    at = edges.index(first)
    last = edge
    for here in (*edges[at:], *edges[:at]):
        if chosen[here]:
            yield here, tuple(chosen[here]), frozenset()
            last = here
    if beyond:
        yield last, tuple(beyond), frozenset(beyond)


def _edges(places: Mapping[str, Point], plate: Plate, reach: Mm) -> tuple[StandAt, ...]:
    wide = plate.width >= plate.height
    one = (StandAt.BOTTOM,) if wide else (StandAt.LEFT,)
    two = (StandAt.BOTTOM, StandAt.TOP) if wide else (StandAt.RIGHT, StandAt.LEFT)
    for edges in (one, two):
        if all(min(_away(p, plate, at) for at in edges) <= reach for p in places.values()):
            return edges
    return RING


def _away(place: Point, plate: Plate, at: StandAt) -> Mm:
    """Return how far a place lies from an edge of the plate."""
    return {
        StandAt.BOTTOM: place.y,
        StandAt.TOP: plate.height - place.y,
        StandAt.LEFT: place.x,
        StandAt.RIGHT: plate.width - place.x,
    }[at]
