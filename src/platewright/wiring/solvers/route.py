"""Shortest way of every wire through the ducts, and how full the ducts get."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

import numpy as np
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra

from platewright.foundation.units import Mm
from platewright.model.geometry import Path, Point
from platewright.model.job import Job
from platewright.model.layout import Layout
from platewright.model.routes import DuctLoad, Route, Routes, Stretch
from platewright.model.wire import Wire
from platewright.wiring.duct_inside import duct_inside
from platewright.wiring.duct_load import fullest
from platewright.wiring.network import (
    Entry,
    Network,
    Node,
    door_point,
    entries,
    manhattan,
    network_of,
    point_on,
)
from platewright.wiring.wire_length import cut_length


class Ways:
    """Shortest ways between all joints of a network."""

    def __init__(self, network: Network) -> None:
        self.network = network
        count = len(network.nodes)
        self.nodes_on: dict[str, list[int]] = {tag: [] for tag in network.ducts}
        for k, node in enumerate(network.nodes):
            self.nodes_on[node.duct].append(k)
        self.at = np.array([node.at for node in network.nodes], dtype=np.float64)
        if count == 0:
            return
        # a tie of length 0 must stay in the sparse matrix: a hair's breadth keeps it
        hair = 1e-9
        rows = [i for i, _, _ in network.ties]
        cols = [j for _, j, _ in network.ties]
        lengths = [max(length, hair) for _, _, length in network.ties]
        graph = csr_array((lengths, (rows, cols)), shape=(count, count))
        self.length, self.before = dijkstra(graph, directed=False, return_predecessors=True)

    def between(self, a: Node, b: Node) -> tuple[Mm, list[Node]] | None:
        """Return length and nodes of the shortest way between two places, both included."""
        direct = abs(a.at - b.at) if a.duct == b.duct else np.inf
        at_a, at_b = self.nodes_on[a.duct], self.nodes_on[b.duct]
        if at_a and at_b:
            ways = (
                np.abs(self.at[at_a] - a.at)[:, None]
                + self.length[np.ix_(at_a, at_b)]
                + np.abs(self.at[at_b] - b.at)[None, :]
            )
            k = int(np.argmin(ways))
            first, last = at_a[k // len(at_b)], at_b[k % len(at_b)]
            best = float(ways.flat[k])
            if best < direct - 1e-6:
                return best, [a, *self._nodes(first, last), b]
        if np.isinf(direct):
            return None
        return float(direct), [a, b]

    def _nodes(self, first: int, last: int) -> list[Node]:
        steps = [last]
        while steps[-1] != first:
            steps.append(int(self.before[first, steps[-1]]))
        return [self.network.nodes[k] for k in reversed(steps)]


def _without_repeats(points: list[Point]) -> Path:
    path = [points[0]]
    path += [p for before, p in pairwise(points) if p != before]
    return tuple(path)


def _square(path: Path) -> Path:
    """Return the path with every slanting piece turned into two square ones."""
    points = [path[0]]
    for a, b in pairwise(path):
        if abs(a.x - b.x) > 1e-9 and abs(a.y - b.y) > 1e-9:
            points.append(Point(b.x, a.y))
        points.append(b)
    return tuple(points)


def _stretches(nodes: list[Node]) -> tuple[Stretch, ...]:
    """Return the ducts passed, in order, each with its part of the way."""
    found: list[Stretch] = []
    for a, b in pairwise(nodes):
        if a.duct != b.duct:
            continue
        if found and found[-1].duct == a.duct and found[-1].end == a.at:
            found[-1] = Stretch(duct=a.duct, start=found[-1].start, end=b.at)
        else:
            found.append(Stretch(duct=a.duct, start=a.at, end=b.at))
    return tuple(found)


def _unrouted(wire: Wire, problem: str) -> Route:
    return Route(wire=wire.number, path=(), stretches=(), run=0.0, cut=0.0, problem=problem)


def route_wire(
    job: Job, wire: Wire, ways: Ways, ends: Mapping[tuple[str, str], Entry | None]
) -> Route:
    """Return one wire's route. One between two door devices stays on the door."""
    for end in (wire.start, wire.end):
        if job.is_open_on_door(end.device):
            return _unrouted(wire, f"the place of {end.device} in the door is not stated")
    if all(job.is_in_door(end.device) for end in (wire.start, wire.end)):
        return _on_the_door(job, wire)
    a = ends.get((wire.start.device, wire.start.terminal))
    b = ends.get((wire.end.device, wire.end.terminal))
    for end, entry in ((wire.start, a), (wire.end, b)):
        if entry is None:
            return _unrouted(wire, f"{end} reaches no duct")
    if a is None or b is None:
        raise AssertionError
    way = ways.between(a.node, b.node)
    if way is None:
        return _unrouted(wire, f"no way from duct {a.node.duct} to duct {b.node.duct}")
    length, nodes = way
    ducts = ways.network.ducts
    points = [*a.path, *(point_on(ducts[n.duct], n.at) for n in nodes), *reversed(b.path)]
    stubs = sum(manhattan(p, q) for e in (a, b) for p, q in pairwise(e.path))
    run = length + stubs
    return Route(
        wire=wire.number,
        path=_square(_without_repeats(points)),
        stretches=_stretches(nodes),
        run=run,
        cut=cut_length(run, to_door=_is_to_door(job, wire)),
    )


def _on_the_door(job: Job, wire: Wire) -> Route:
    """Return the way of a wire that never leaves the door: square, from device to device."""
    a, b = (door_point(job, end.device) for end in (wire.start, wire.end))
    run = manhattan(a, b)
    return Route(
        wire=wire.number,
        path=_square(_without_repeats([a, b])),
        stretches=(),
        run=run,
        cut=cut_length(run),
    )


def _is_to_door(job: Job, wire: Wire) -> bool:
    return any(job.is_in_door(end.device) for end in (wire.start, wire.end))


def route_wires(job: Job, layout: Layout, outer_diameters: Mapping[str, Mm]) -> Routes:
    """Route every wire of the job through the layout's ducts by the shortest way.

    Wires without a known outside diameter count in length but not in fill.
    """
    network = network_of(layout)
    ways = Ways(network)
    ends = entries(job, layout)
    routes = {wire.number: route_wire(job, wire, ways, ends) for wire in job.wires}
    stock = {s.name: s for s in job.settings.stock.ducts}
    loads: dict[str, DuctLoad] = {}
    for tag, duct in layout.ducts.items():
        kept = stock.get(duct.stock)
        inside, assumed = duct_inside(
            width=duct.width, height=duct.height, stated=kept.inside_area if kept else None
        )
        passing = [
            (min(s.start, s.end), max(s.start, s.end), outer_diameters[number])
            for number, route in routes.items()
            for s in route.stretches
            if s.duct == tag and number in outer_diameters
        ]
        at, wires, area = fullest(passing)
        loads[tag] = DuctLoad(
            duct=tag, at=at, wires=wires, area=area, inside=inside, assumed=assumed
        )
    return Routes(wires=routes, loads=loads)
