"""The ducts as a network: where they join, and where a terminal's wire enters them.

Two ducts join where they touch across each other or end to end. Every joint gives a node on
each of the two ducts, tied by a link; along a duct, neighbouring nodes are tied by the duct
itself. A wire enters a duct square to it, at the duct's axis.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import Job
from platewright.model.layout import Duct, Layout, Run
from platewright.model.panel import body_box, terminal_offset

_JOINT_GAP: Mm = 6.0  # ducts nearer than this are taken as joined (gaps for expansion)


@dataclass(frozen=True, slots=True)
class Node:
    """A place on a duct, told as the distance from its lower or left end."""

    duct: str
    at: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Network:
    """Ducts, joint nodes, and ties between nodes (node numbers and length)."""

    ducts: Mapping[str, Duct]
    nodes: tuple[Node, ...]
    ties: tuple[tuple[int, int, Mm], ...]


def point_on(duct: Duct, at: Mm) -> Point:
    """Return the point of a duct's axis at a distance from its lower or left end."""
    if duct.run is Run.ACROSS:
        return Point(duct.x + at, duct.y + duct.width / 2)
    return Point(duct.x + duct.width / 2, duct.y + at)


def place_on(duct: Duct, point: Point) -> Mm:
    """Return the place along a duct's axis nearest to a point."""
    along = point.x - duct.x if duct.run is Run.ACROSS else point.y - duct.y
    return min(max(along, 0.0), duct.length)


def _joint(a: Duct, b: Duct) -> tuple[Mm, Mm] | None:
    """Return where two ducts join, as places on each; ``None`` if they do not."""
    in_x, in_y = a.box.overlap(b.box)
    if min(in_x, in_y) < -_JOINT_GAP or max(in_x, in_y) <= 0.0:
        return None  # apart, or corner to corner
    if a.run is not b.run:
        across, upright = (a, b) if a.run is Run.ACROSS else (b, a)
        on_across = place_on(across, point_on(upright, 0.0))
        on_upright = place_on(upright, point_on(across, 0.0))
        return (on_across, on_upright) if across is a else (on_upright, on_across)
    end_to_end = in_x <= 0 if a.run is Run.ACROSS else in_y <= 0
    if not end_to_end:
        return None  # side by side: walls between
    first = (a.x, a.y) < (b.x, b.y)
    return (a.length, 0.0) if first else (0.0, b.length)


def manhattan(a: Point, b: Point) -> Mm:
    """Return the distance of two points along the axes."""
    return abs(a.x - b.x) + abs(a.y - b.y)


def network_of(layout: Layout) -> Network:
    """Return the duct network of a layout."""
    tags = sorted(layout.ducts)
    nodes: list[Node] = []
    ties: list[tuple[int, int, Mm]] = []
    for i, one in enumerate(tags):
        for other in tags[i + 1 :]:
            a, b = layout.ducts[one], layout.ducts[other]
            joint = _joint(a, b)
            if joint is None:
                continue
            nodes += [Node(one, joint[0]), Node(other, joint[1])]
            length = manhattan(point_on(a, joint[0]), point_on(b, joint[1]))
            ties.append((len(nodes) - 2, len(nodes) - 1, length))
    for tag in tags:
        here = sorted((node.at, k) for k, node in enumerate(nodes) if node.duct == tag)
        ties += [(j, k, t - s) for (s, j), (t, k) in pairwise(here)]
    return Network(ducts=dict(layout.ducts), nodes=tuple(nodes), ties=tuple(ties))


@dataclass(frozen=True, slots=True)
class Entry:
    """Where a wire's end meets the ducts: the path from the end to the duct, and the place."""

    path: tuple[Point, ...]
    node: Node


def _between(a: Mm, b: Mm, value: Mm) -> bool:
    return min(a, b) <= value <= max(a, b)


class _Surroundings:
    """The ducts and bodies round a terminal, in order, so that few are looked at for each."""

    def __init__(self, ducts: Mapping[str, Duct], bodies: Iterable[Box]) -> None:
        self.ducts = ducts
        boxes = {tag: duct.box for tag, duct in ducts.items()}
        self.across = [(t, boxes[t]) for t, duct in ducts.items() if duct.run is Run.ACROSS]
        self.upright = [(t, boxes[t]) for t, duct in ducts.items() if duct.run is Run.UPRIGHT]
        self.bodies = sorted(bodies, key=lambda body: body.left)
        self._lefts = [body.left for body in self.bodies]
        self._widest = max((body.width for body in self.bodies), default=0.0)

    def over(self, x: Mm) -> Iterator[Box]:
        """Yield the bodies that a line straight up at ``x`` runs through."""
        first = bisect_left(self._lefts, x - self._widest)
        for k in range(first, bisect_left(self._lefts, x)):
            if x < self.bodies[k].right:
                yield self.bodies[k]

    def nearest(self, point: Point, *, up: bool, own: Box) -> Entry | None:
        """Return the entry straight up or down from a terminal; none past another body."""
        best: tuple[Mm, str] | None = None
        for tag, box in self.across:
            if not box.left <= point.x <= box.right:
                continue
            axis = (box.bottom + box.top) / 2
            gap = axis - point.y if up else point.y - axis
            if gap >= 0 and (best is None or (gap, tag) < best):
                best = (gap, tag)
        if best is None:
            return None
        gap, tag = best
        axis = point.y + gap if up else point.y - gap
        for body in self.over(point.x):
            if body is not own and _between(point.y, axis, (body.bottom + body.top) / 2):
                return None
        return self._entry(point, tag)

    def beside(self, point: Point) -> Entry | None:
        """Return the entry into the nearest upright duct at the terminal's height."""
        gaps = [
            (abs((box.left + box.right) / 2 - point.x), tag)
            for tag, box in self.upright
            if box.bottom <= point.y <= box.top
        ]
        return self._entry(point, min(gaps)[1]) if gaps else None

    def _entry(self, point: Point, tag: str) -> Entry:
        duct = self.ducts[tag]
        at = place_on(duct, point)
        return Entry((point, point_on(duct, at)), Node(tag, at))


def door_point(job: Job, tag: str) -> Point:
    """Return the middle of a door device, where its wires are taken to end."""
    device, part = job.devices[tag], job.part_of(tag)
    return Point((device.door_x or 0.0) + part.width / 2, (device.door_y or 0.0) + part.height / 2)


def _door_entry(job: Job, layout: Layout, tag: str) -> Entry | None:
    """Return where a door device's wires leave the ducts: nearest to the hinge, at its height.

    The path runs from the device on the door to the hinge and on to the duct, as if the door
    were folded flat.
    """
    end = door_point(job, tag)
    hinge = Point(job.settings.hinge_line, end.y)
    best: tuple[Mm, str] | None = None
    for name, duct in sorted(layout.ducts.items()):
        gap = manhattan(hinge, point_on(duct, place_on(duct, hinge)))
        if best is None or gap < best[0]:
            best = (gap, name)
    if best is None:
        return None
    duct = layout.ducts[best[1]]
    at = place_on(duct, hinge)
    leave = point_on(duct, at)
    corner = Point(hinge.x, leave.y)
    path = (end, hinge, corner, leave) if corner != hinge else (end, hinge, leave)
    return Entry(path, Node(best[1], at))


def entries(job: Job, layout: Layout) -> dict[tuple[str, str], Entry | None]:
    """Return where every wired terminal enters the ducts; ``None``: it can't reach one.

    A terminal on top goes up, one below goes down; where another device stands in the way it
    goes the other way, past its own device; then to an upright duct beside it.
    """
    bodies = {tag: body_box(job.part_of(tag), at) for tag, at in layout.devices.items()}
    near = _Surroundings(layout.ducts, bodies.values())
    found: dict[tuple[str, str], Entry | None] = {}
    ends = {(e.device, e.terminal) for wire in job.wires for e in (wire.start, wire.end)}
    for tag, terminal in sorted(ends):
        if tag not in bodies:
            on_door = tag in job.devices and tag not in {d.tag for d in job.on_plate}
            found[tag, terminal] = _door_entry(job, layout, tag) if on_door else None
            continue
        offset = terminal_offset(job.part_of(tag), terminal)
        if offset is None:
            found[tag, terminal] = None
            continue
        side, at = offset
        own = bodies[tag]
        point = Point(own.left + at.x, own.bottom + at.y)
        up = side == "top" or (side in ("left", "right") and at.y >= own.height / 2)
        found[tag, terminal] = (
            near.nearest(point, up=up, own=own)
            or near.nearest(point, up=not up, own=own)
            or near.beside(point)
        )
    return found
