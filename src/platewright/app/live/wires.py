"""Wire length and fill while devices move: only the wires concerned are routed again.

A wire is concerned when one of its ends sits on a moved device, or when a moved body blocks or
frees the straight way from a terminal to its duct. Everything else is kept from the last full
routing, so the figures are those of a full routing (the tests hold them to it).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.units import Mm, Ratio
from platewright.model.geometry import Point
from platewright.model.layout import Duct, Run
from platewright.model.panel import Panel, terminal_offset
from platewright.model.routes import Route
from platewright.model.wire import Wire
from platewright.rules.distances import Floats, boxes_array
from platewright.wiring.network import Entry, Node, entries, network_of, place_on, point_on
from platewright.wiring.solvers.route import Ways, route_wire

End: TypeAlias = tuple[str, str]
Ints: TypeAlias = NDArray[np.int64]
Passing: TypeAlias = dict[str, dict[str, list[tuple[Mm, Mm]]]]  # duct -> wire -> from, to
NO_DUCT: Final = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class WireFigures:
    """Length of all wires, wires without a way, and fill of the ducts that changed."""

    cut: Mm
    unrouted: int
    fill: Mapping[str, Ratio]


class Base:
    """The last full routing in the form that a part of it can be done again. Made once a check."""

    def __init__(self, panel: Panel) -> None:
        self.ends: dict[End, Entry | None] = entries(panel.job, panel.layout)
        self.ways = Ways(network_of(panel.layout))
        self.wires_at: dict[End, list[Wire]] = {}
        for wire in panel.job.wires:
            for end in (wire.start, wire.end):
                self.wires_at.setdefault((end.device, end.terminal), []).append(wire)
        self.passing: Passing = {tag: {} for tag in panel.layout.ducts}
        for number, route in panel.routes.wires.items():
            _lay(self.passing, number, route)


class Terminals:
    """Wired terminals as arrays: where they are on their device, which way they leave first."""

    def __init__(self, panel: Panel, rows: list[str]) -> None:
        index = {tag: i for i, tag in enumerate(rows)}
        ends = {(e.device, e.terminal) for w in panel.job.wires for e in (w.start, w.end)}
        self.ends: list[End] = []
        owner: list[int] = []
        offset: list[tuple[float, float]] = []
        up: list[bool] = []
        for tag, name in sorted(ends):
            part = panel.job.part_of(tag)
            found = terminal_offset(part, name) if tag in index else None
            if found is None:
                continue
            side, at = found
            self.ends.append((tag, name))
            owner.append(index[tag])
            offset.append((at.x, at.y))
            up.append(side == "top" or (side in ("left", "right") and at.y >= part.height / 2))
        self.owner = np.array(owner, dtype=np.int64)
        self.offset = np.array(offset, dtype=np.float64).reshape(-1, 2)
        self.up = np.array(up, dtype=bool)


class LiveWires:
    """The last full routing, and what is needed to do a part of it again."""

    def __init__(
        self, panel: Panel, base: Base, rows: list[str], bodies: Floats, moved: Ints
    ) -> None:
        self.base = base
        self.job = panel.job
        self.ducts = panel.layout.ducts
        self.diameters = panel.outer_diameters
        self.before = panel.routes
        self.moved = moved
        self.body = bodies
        self.terminals = Terminals(panel, rows)
        self.across = sorted(t for t, d in self.ducts.items() if d.run is Run.ACROSS)
        boxes = boxes_array(self.ducts[t].box for t in self.across)
        self.left, self.right = boxes[:, 0], boxes[:, 2]
        self.axis = (boxes[:, 1] + boxes[:, 3]) / 2
        self._prepare()

    def _prepare(self) -> None:
        """Find what stands in the terminals' ways with the moved devices lifted off."""
        t = self.terminals
        is_moved = np.isin(t.owner, self.moved)
        self.mine, self.theirs = np.flatnonzero(is_moved), np.flatnonzero(~is_moved)
        stay = np.setdiff1d(np.arange(len(self.body)), self.moved)
        stay = stay[~np.isnan(self.body[stay, 0])]
        self.static = stay
        at = self.body[t.owner[self.theirs], :2] + t.offset[self.theirs]
        self.their_points = at
        self.their_ducts = self._candidates(at, t.up[self.theirs])
        own = t.owner[self.theirs][:, None] == stay[None, :]
        self.their_blocks = self._blocked(at, self.their_ducts, self.body[stay], own)
        self.their_base = self._chosen(self.their_blocks, self.body[self.moved])

    def _their_point(self, k: int) -> Point:
        """Return where a terminal of a device that stays lies."""
        t = self.terminals
        x, y = self.body[t.owner[k], :2] + t.offset[k]
        return Point(float(x), float(y))

    def figures(self, bodies: Floats) -> WireFigures:
        """Return the figures with the moved devices at these bodies."""
        t = self.terminals
        ends = dict(self.base.ends)
        changed: list[End] = []
        chosen = self._chosen(self.their_blocks, bodies)
        for n in np.flatnonzero(chosen != self.their_base).tolist():
            other = int(self.theirs[n])
            ends[t.ends[other]] = self._entry(self._their_point(other), int(chosen[n]))
            changed.append(t.ends[other])
        row = {int(m): n for n, m in enumerate(self.moved)}
        spot = np.array([row[int(o)] for o in t.owner[self.mine]], dtype=np.int64)
        at = bodies[spot, :2] + t.offset[self.mine]
        ducts = self._candidates(at, t.up[self.mine])
        everything = np.concatenate([self.body[self.static], bodies])
        own = np.zeros((len(at), len(everything)), dtype=bool)
        own[np.arange(len(at)), len(self.static) + spot] = True
        mine = self._first_open(ducts, self._blocked(at, ducts, everything, own))
        for n, k in enumerate(self.mine.tolist()):
            point = Point(float(at[n, 0]), float(at[n, 1]))
            ends[t.ends[k]] = self._entry(point, int(mine[n]))
            changed.append(t.ends[k])
        return self._routed(ends, changed)

    def _candidates(self, at: Floats, up: NDArray[np.bool_]) -> Ints:
        """Return the nearest duct first in the terminal's own way, then in the other: (n, 2)."""
        if not len(self.across) or not len(at):
            return np.full((len(at), 2), NO_DUCT, dtype=np.int64)
        over = (self.left[None] <= at[:, :1]) & (at[:, :1] <= self.right[None])
        rise = self.axis[None] - at[:, 1:]
        found = []
        for gap in (rise, -rise):
            open_gap = np.where(over & (gap >= 0), gap, np.inf)
            nearest = open_gap.argmin(axis=1)
            is_none = ~np.isfinite(open_gap[np.arange(len(at)), nearest])
            found.append(np.where(is_none, NO_DUCT, nearest))
        above, below = found
        return np.stack([np.where(up, above, below), np.where(up, below, above)], axis=1)

    def _blocked(
        self, at: Floats, ducts: Ints, bodies: Floats, own: NDArray[np.bool_]
    ) -> NDArray[np.bool_]:
        """Return whether a body stands between terminal and duct, in each of the two ways."""
        inside = (bodies[None, :, 0] < at[:, :1]) & (at[:, :1] < bodies[None, :, 2]) & ~own
        middle = ((bodies[:, 1] + bodies[:, 3]) / 2)[None]
        found = np.zeros((len(at), 2), dtype=bool)
        for way in (0, 1):
            axis = self._axis_of(ducts[:, way])[:, None]
            low, high = np.minimum(at[:, 1:], axis), np.maximum(at[:, 1:], axis)
            found[:, way] = (inside & (low <= middle) & (middle <= high)).any(axis=1)
        return found

    def _axis_of(self, ducts: Ints) -> Floats:
        if not len(self.axis):
            return np.zeros(len(ducts))
        return np.asarray(np.where(ducts == NO_DUCT, 0.0, self.axis[ducts]))

    def _chosen(self, blocks: NDArray[np.bool_], bodies: Floats) -> Ints:
        """Return the ducts of the terminals that stay, with the moved bodies in place."""
        bodies = bodies[~np.isnan(bodies[:, 0])]
        own = np.zeros((len(self.their_points), len(bodies)), dtype=bool)
        more = self._blocked(self.their_points, self.their_ducts, bodies, own)
        return self._first_open(self.their_ducts, blocks | more)

    @staticmethod
    def _first_open(ducts: Ints, blocked: NDArray[np.bool_]) -> Ints:
        open_ = np.where(blocked, NO_DUCT, ducts)
        return np.asarray(np.where(open_[:, 0] >= 0, open_[:, 0], open_[:, 1]), dtype=np.int64)

    def _entry(self, point: Point, choice: int) -> Entry | None:
        if choice != NO_DUCT:
            return _entry_at(self.ducts, self.across[choice], point)
        beside = [
            (abs(duct.x + duct.width / 2 - point.x), tag)
            for tag, duct in self.ducts.items()
            if duct.run is Run.UPRIGHT and duct.box.bottom <= point.y <= duct.box.top
        ]
        return _entry_at(self.ducts, min(beside)[1], point) if beside else None

    def _routed(self, ends: Mapping[End, Entry | None], changed: list[End]) -> WireFigures:
        wires = {w.number: w for end in changed for w in self.base.wires_at.get(end, ())}
        cut, unrouted = (
            self.before.total_cut,
            sum(not r.is_routed for r in self.before.wires.values()),
        )
        touched: Passing = {}
        for number, wire in wires.items():
            old, new = self.before.wires[number], route_wire(self.job, wire, self.base.ways, ends)
            cut += new.cut - old.cut
            unrouted += old.is_routed - new.is_routed
            for stretch in (*old.stretches, *new.stretches):
                if stretch.duct not in touched:
                    touched[stretch.duct] = dict(self.base.passing[stretch.duct])
                touched[stretch.duct].pop(number, None)
            _lay(touched, number, new)
        fill = {tag: self._fill(tag, passing) for tag, passing in sorted(touched.items())}
        return WireFigures(cut=cut, unrouted=unrouted, fill=fill)

    def _fill(self, tag: str, passing: Mapping[str, list[tuple[Mm, Mm]]]) -> Ratio:
        known = [
            (n, s) for n, stretches in passing.items() if n in self.diameters for s in stretches
        ]
        load = self.before.loads[tag]
        if not known:
            return 0.0
        spans = np.array([s for _, s in known])
        area = math.pi / 4 * np.array([self.diameters[n] for n, _ in known]) ** 2
        at = np.concatenate([spans[:, 0], spans[:, 1]])
        step = np.concatenate([np.ones(len(area)), -np.ones(len(area))])
        order = np.lexsort((step, at))
        running = np.cumsum(np.concatenate([area, -area])[order])
        return max(0.0, float(running.max())) / load.inside


def _lay(ducts: Passing, number: str, route: Route) -> None:
    for s in route.stretches:
        span = (min(s.start, s.end), max(s.start, s.end))
        ducts[s.duct].setdefault(number, []).append(span)


def _entry_at(ducts: Mapping[str, Duct], tag: str, point: Point) -> Entry:
    duct = ducts[tag]
    at = place_on(duct, point)
    return Entry((point, point_on(duct, at)), Node(tag, at))
