"""Room round things while a hand moves them: the space checks' measures, on arrays.

The checks themselves judge again once the hand lets go; the tests hold both to the same figures.
Nothing here reads a file.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from platewright.app.editing.things import thing_of
from platewright.foundation.units import Mm
from platewright.model.geometry import TOUCH, Box
from platewright.model.panel import Panel
from platewright.rules.distances import SIDES, Floats, boxes_array, free_between, shared
from platewright.rules.judge import TOLERANCE
from platewright.rules.placed import are_partners, placed_devices, rail_box

Flags: TypeAlias = NDArray[np.bool_]
NONE: Final = -np.inf  # no room is asked for on a side
BACK: Final = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


@dataclass(frozen=True, slots=True)
class Clash:
    """One measure that misses its limit: by which check, between what, how much is needed."""

    rule: str
    subject: str
    other: str
    measured: Mm
    limit: Mm
    place: tuple[Mm, Mm, Mm, Mm]  # left, bottom, right, top


@dataclass(frozen=True, slots=True)
class Gap:
    """Free distance on one side of what is moved, to the nearest thing that faces it."""

    side: str
    other: str
    distance: Mm
    needed: Mm


class Space:
    """Everything on the plate as arrays, with the room each device asks for."""

    def __init__(self, panel: Panel, extra: tuple[str, ...] = ()) -> None:
        placed = list(placed_devices(panel))
        devices = [one.tag for one in placed]
        ducts = sorted(panel.layout.ducts.items())
        rails = sorted(panel.layout.rails.items())
        waiting = [tag for tag in extra if thing_of(panel.layout, tag) is None]
        self.tags = [*devices, *waiting, *(t for t, _ in ducts), *(t for t, _ in rails)]
        self.index = {tag: i for i, tag in enumerate(self.tags)}
        self.devices = len(devices) + len(waiting)
        self.solid = self.devices + len(ducts)  # what stands in the way; rails lie under things
        empty = np.full((len(waiting), 4), np.nan)
        fixed = [*(duct.box for _, duct in ducts), *(rail_box(rail) for _, rail in rails)]
        self.body = np.concatenate([boxes_array(o.body for o in placed), empty, boxes_array(fixed)])
        self.envelope = np.concatenate(
            [boxes_array(o.envelope for o in placed), empty, boxes_array(fixed)]
        )
        self.clear, self.wiring = _needs(panel, [*devices, *waiting])
        self.partner = _partners(panel, [*devices, *waiting], self.solid)
        plate = panel.job.settings.plate
        self.plate, self.margin = plate.box, plate.edge_margin
        self.regions = [region.box for region in plate.keep_outs]
        self.fixings = [(hole.centre, hole.keep_out / 2) for hole in plate.fixing_holes]

    def clashes(self, moved: NDArray[np.int64], body: Floats, envelope: Floats) -> list[Clash]:
        """Return what misses its limit once the things ``moved`` stand at these boxes."""
        bodies, envelopes = self.body.copy(), self.envelope.copy()
        bodies[moved], envelopes[moved] = body, envelope
        here = moved[moved < self.devices]
        solid = moved[moved < self.solid]
        return [
            *self._overlaps(here, bodies, envelopes),
            *self._clear(here, solid, envelopes),
            *self._wiring(here, solid, bodies, envelopes),
            *self._ducts(moved, envelopes),
            *self._edges(moved, envelopes),
            *self._zones(moved, envelopes),
        ]

    def _overlaps(
        self, here: NDArray[np.int64], bodies: Floats, envelopes: Floats
    ) -> Iterator[Clash]:
        count = self.devices
        in_x, in_y = shared(envelopes[here], envelopes[:count])
        hit = (in_x > TOUCH) & (in_y > TOUCH)
        for i, j in np.argwhere(hit):
            a, b = int(here[i]), int(j)
            if a == b or (b in here and b < a):
                continue
            boxes = envelopes
            if self.partner[a, b]:
                boxes = bodies
                if not _touching(bodies[a], bodies[b]):
                    continue
            one, other = sorted((a, b), key=lambda k: self.tags[k])
            yield self._deep("space.device-overlap", one, other, boxes)

    def _deep(self, rule: str, one: int, other: int, boxes: Floats) -> Clash:
        a, b = boxes[one], boxes[other]
        left, bottom = max(a[0], b[0]), max(a[1], b[1])
        right, top = min(a[2], b[2]), min(a[3], b[3])
        depth = min(right - left, top - bottom)
        place = (float(left), float(bottom), float(right), float(top))
        return Clash(rule, self.tags[one], self.tags[other], float(depth), 0.0, place)

    def _clear(
        self, here: NDArray[np.int64], solid: NDArray[np.int64], envelopes: Floats
    ) -> Iterator[Clash]:
        """Judge the moved ones against all, and all the others against the moved ones."""
        yield from self._clear_of(here, np.arange(self.solid), envelopes)
        rest = np.setdiff1d(np.arange(self.devices), here)
        yield from self._clear_of(rest, solid, envelopes)

    def _clear_of(
        self, ones: NDArray[np.int64], others: NDArray[np.int64], envelopes: Floats
    ) -> Iterator[Clash]:
        free = free_between(envelopes[ones], envelopes[others])
        own = self.partner[np.ix_(ones, others)] | (ones[:, None] == others[None, :])
        for s, side in enumerate(SIDES):
            need = self.clear[ones, s][:, None]
            distance = free[side]
            short = (need > 0) & (distance < need - TOLERANCE * np.maximum(1.0, need)) & ~own
            for i, j in np.argwhere(short):
                one, other = int(ones[i]), int(others[j])
                room = float(need[i, 0])
                yield Clash(
                    "space.clear-space", self.tags[one], self.tags[other],
                    float(distance[i, j]), room, _strip(envelopes[one], side, room),
                )  # fmt: skip

    def _wiring(
        self,
        here: NDArray[np.int64],
        solid: NDArray[np.int64],
        bodies: Floats,
        envelopes: Floats,
    ) -> Iterator[Clash]:
        """Judge the nearest thing that faces a wired side, where a moved thing takes part."""
        everyone = np.arange(self.devices)
        near = self._faced(everyone, solid, bodies, envelopes)
        ones = np.unique(np.concatenate([here, everyone[near]]))
        others = np.arange(self.solid)
        free = free_between(bodies[ones], envelopes[: self.solid])
        own = self.partner[ones] | (ones[:, None] == others[None, :])
        for s, side in enumerate(("top", "bottom")):
            distance = np.where(own, np.inf, free[side])
            nearest = distance.argmin(axis=1)
            least = distance[np.arange(len(ones)), nearest]
            need = self.wiring[ones, s]
            short = np.isfinite(least) & (least < need - TOLERANCE * np.maximum(1.0, need))
            for i in np.flatnonzero(short):
                one, other = int(ones[i]), int(nearest[i])
                if one in here or other in solid:
                    yield Clash(
                        "space.wiring-space", self.tags[one], self.tags[other], float(least[i]),
                        float(need[i]), _strip(bodies[one], side, float(need[i])),
                    )  # fmt: skip

    def _faced(
        self,
        ones: NDArray[np.int64],
        solid: NDArray[np.int64],
        bodies: Floats,
        envelopes: Floats,
    ) -> Flags:
        """Return which of ``ones`` have a moved thing within their wiring room."""
        free = free_between(bodies[ones], envelopes[solid])
        short = (free["top"] < self.wiring[ones, 0][:, None]) | (
            free["bottom"] < self.wiring[ones, 1][:, None]
        )
        return np.asarray(short.any(axis=1))

    def _ducts(self, moved: NDArray[np.int64], envelopes: Floats) -> Iterator[Clash]:
        ducts = np.arange(self.devices, self.solid)
        here = moved[moved < self.devices]
        of_ducts = moved[(moved >= self.devices) & (moved < self.solid)]
        rest = np.setdiff1d(np.arange(self.devices), here)
        for ones, others in ((here, ducts), (rest, of_ducts)):
            in_x, in_y = shared(envelopes[ones], envelopes[others])
            for i, j in np.argwhere((in_x > TOUCH) & (in_y > TOUCH)):
                yield self._deep("space.duct-overlap", int(ones[i]), int(others[j]), envelopes)

    def _edges(self, moved: NDArray[np.int64], envelopes: Floats) -> Iterator[Clash]:
        plate = self.plate
        for i in moved:
            left, bottom, right, top = (float(v) for v in envelopes[i])
            least = min(left, bottom, plate.right - right, plate.top - top)
            limit = 0.0 if least < 0 or self.margin <= 0 else self.margin
            if least < limit - TOLERANCE * max(1.0, limit):
                place = (left, bottom, right, top)
                yield Clash("space.plate-edge", self.tags[i], "plate", least, limit, place)

    def _zones(self, moved: NDArray[np.int64], envelopes: Floats) -> Iterator[Clash]:
        for i in moved:
            box = Box(*(float(v) for v in envelopes[i]))
            for region in self.regions:
                if box.overlaps(region):
                    depth = min(box.overlap(region))
                    place = (region.left, region.bottom, region.right, region.top)
                    yield Clash("space.keep-out", self.tags[i], "region", depth, 0.0, place)
            for centre, radius in self.fixings:
                distance = box.distance_to(centre)
                if distance < radius - TOLERANCE * max(1.0, radius):
                    place = (
                        centre.x - radius, centre.y - radius, centre.x + radius, centre.y + radius
                    )  # fmt: skip
                    yield Clash(
                        "space.fixing-hole", self.tags[i], "fixing hole", distance, radius, place
                    )

    def gaps(self, moved: NDArray[np.int64], envelope: Floats) -> list[Gap]:
        """Return the free distance on each side of all that is moved together."""
        around = np.array([[*envelope[:, :2].min(axis=0), *envelope[:, 2:].max(axis=0)]])
        others = np.setdiff1d(np.arange(self.solid), moved)
        free = free_between(around, self.envelope[others])
        found: list[Gap] = []
        for s, side in enumerate(SIDES):
            row = np.where(np.isnan(free[side][0]), np.inf, free[side][0])
            if not len(row) or not np.isfinite(row.min()):
                continue
            k = int(row.argmin())
            asked = [self.clear[i, s] for i in moved if i < self.devices]
            back = SIDES.index(BACK[side])
            if others[k] < self.devices:
                asked.append(self.clear[others[k], back])
            needed = max([0.0, *(float(a) for a in asked)])
            found.append(Gap(side, self.tags[others[k]], float(row[k]), needed))
        return found


def _needs(panel: Panel, devices: list[str]) -> tuple[Floats, Floats]:
    clear = np.zeros((len(devices), 4))
    wiring = np.full((len(devices), 2), NONE)
    for i, tag in enumerate(devices):
        room = panel.clear.get(tag)
        if room is not None:
            clear[i] = [getattr(room, side).room for side in SIDES]
        ways = panel.wiring.get(tag)
        if ways is not None:
            wiring[i] = [NONE if n is None else n.room for n in (ways.top, ways.bottom)]
    return clear, wiring


def _partners(panel: Panel, devices: list[str], solid: int) -> Flags:
    """Return which pairs are made to touch."""
    found = np.zeros((len(devices), solid), dtype=bool)
    index = {tag: i for i, tag in enumerate(devices)}
    for tag, i in index.items():
        one = panel.job.devices[tag]
        for other in (one.plugs_into, one.hangs_under):
            if other in index and are_partners(one, panel.job.devices[other]):
                found[i, index[other]] = found[index[other], i] = True
    return found


def _touching(a: Floats, b: Floats) -> bool:
    across = min(a[2], b[2]) - max(a[0], b[0])
    upright = min(a[3], b[3]) - max(a[1], b[1])
    return bool(across > TOUCH and upright > TOUCH)


def _strip(box: Floats, side: str, room: float) -> tuple[Mm, Mm, Mm, Mm]:
    left, bottom, right, top = (float(v) for v in box)
    return {
        "left": (left - room, bottom, left, top),
        "right": (right, bottom, right + room, top),
        "top": (left, top, right, top + room),
        "bottom": (left, bottom - room, right, bottom),
    }[side]
