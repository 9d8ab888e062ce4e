"""Every plate that a small change to a drilled one could lead to, one by one.

Shares nothing with the search: it reads ducts, rails and drilled holes from the layout, puts
devices onto them and onto bare plate by its own arithmetic, and lets the checks judge what it
finds. A rail device may stand on every drilled rail, in every order, and on a rail of its own
anywhere on the plate; a screw-mounted one at every place of a raster and on every pattern of idle
holes. On a rail, devices are pushed to the left: if an order fits at all, it fits so. New rails
and screw-mounted devices are looked for at steps of ``STEP`` only, so that what the enumeration
does not find is proved for these places, not for all.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import combinations, product

from platewright.app.gather import panel_of
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.model.finding import Verdict
from platewright.model.geometry import Box
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout, Placement, Rail
from platewright.model.panel import envelope_box, hole_offsets
from platewright.model.part import Mount, Part
from platewright.rules.registry import run_rules

STEP = 10.0  # mm between places tried on bare plate
SCREWS = 2  # a rail is held by two at least
SHORTEST = 55.0  # rail that takes two screws
HAIR = 1e-6
JUDGED = ("space", "fabrication.hole-spacing", "fabrication.hole-hidden")


def new_holes(before: Layout, after: Layout) -> int:
    """Return how many holes are drilled anew."""
    return sum(tag not in before.holes for tag in after.holes)


def moved(job: Job, before: Layout, after: Layout) -> set[str]:
    """Return the devices of the same part that stand elsewhere."""
    return {
        tag
        for tag, at in before.devices.items()
        if tag in job.devices
        and at.part == job.devices[tag].part
        and (after.devices[tag].x, after.devices[tag].y) != (at.x, at.y)
    }


def wrong(job: Job, layout: Layout) -> tuple[int, int]:
    """Return how many checks FAIL and how many warn."""
    found = [one.verdict for one in run_rules(panel_of(job, layout), JUDGED)]
    return found.count(Verdict.FAIL), found.count(Verdict.CAUTION)


@dataclass
class Plates:
    """The plates that a changed job could have; ``planned`` is the one to beat, if there is one."""

    job: Job
    before: Layout
    planned: Layout | None = None
    judged: int = 0  # plates that the checks were asked about
    limits: tuple[int, int] = field(init=False)

    def __post_init__(self) -> None:
        self.limits = (0, 0) if self.planned is None else wrong(self.job, self.planned)
        plate = [d.tag for d in self.job.on_plate]
        self.changed = [
            t
            for t in plate
            if t not in self.before.devices
            or self.before.devices[t].part != self.job.devices[t].part
        ]
        drilled = {h.holds for h in self.before.holes.values() if h.state is HoleState.DRILLED}
        self.movable = [t for t in plate if t not in self.changed and t not in drilled]
        stay = set(plate) - set(self.changed)
        self.idle = [h for h in self.before.holes.values() if h.holds not in self._held(stay)]

    def _held(self, stay: set[str]) -> set[str]:
        return {*stay, *self.before.rails, *self.before.ducts}

    def part(self, tag: str) -> Part:
        return self.job.part_of(tag)

    def better(self) -> Layout | None:
        """Return a plate with fewer new holes, or as few and fewer moved devices, if there is one."""
        if self.planned is None:
            raise ValueError
        holes = new_holes(self.before, self.planned)
        moves = len(moved(self.job, self.before, self.planned))
        for count in range(len(self.movable) + 1):
            for gone in combinations(self.movable, count):
                for rails in range(holes // SCREWS + 1):
                    most = holes if count < moves else holes - 1
                    found = self._with(set(gone), rails, most)
                    if found is not None:
                        return found
        return None

    def on_drilled_rails(self) -> Layout | None:
        """Return a plate without a new rail and without a warning, if there is one."""
        return self._with(set(self.movable), 0, 99)

    def _with(self, gone: set[str], rails: int, most: int) -> Layout | None:
        """Return a plate with these moved, so many new rails and no more new holes than ``most``."""
        stand = {
            t: at
            for t, at in self.before.devices.items()
            if t in self.job.devices and t not in gone and t not in self.changed
        }
        free = [*self.changed, *sorted(gone)]
        screwed = [t for t in free if self.part(t).mount is Mount.SCREWS]
        hung = [t for t in free if self.part(t).mount is Mount.RAIL]
        for bolted in self._bolted(screwed, stand, most - SCREWS * rails):
            for devices, new in self._hung(hung, {**stand, **bolted}, rails):
                layout = self.with_holes(devices, new)
                if new_holes(self.before, layout) > most:
                    continue
                self.judged += 1
                fails, warnings = wrong(self.job, layout)
                if fails == 0 and fails <= self.limits[0] and warnings <= self.limits[1]:
                    return layout
        return None

    def with_holes(self, devices: dict[str, Placement], new: list[Rail]) -> Layout:
        """Return the plate with these devices and new rails, its holes placed."""
        stand = {t: replace(at, part=self.job.devices[t].part) for t, at in devices.items()}
        rails = {**self.before.rails, **{f"R9{k}": rail for k, rail in enumerate(new)}}
        return place_holes(self.job, replace(self.before, devices=stand, rails=rails))

    # --- screw-mounted devices ----------------------------------------------------------------

    def _bolted(
        self, tags: list[str], stand: dict[str, Placement], most: int
    ) -> Iterator[dict[str, Placement]]:
        """Yield places for screw-mounted devices that ask for no more new holes than ``most``."""
        if not tags:
            if most >= 0:
                yield {}
            return
        tag, rest = tags[0], tags[1:]
        feet = hole_offsets(self.part(tag))
        for at in self._spots(tag):
            served = sum(
                any(abs(h.x - at.x - f.x) < 0.5 and abs(h.y - at.y - f.y) < 0.5 for h in self.idle)
                for f in feet
            )
            left = most - len(feet) + served
            if left < 0 or not self._clear(tag, at, stand):
                continue
            for others in self._bolted(rest, {**stand, tag: at}, left):
                yield {tag: at, **others}

    def _spots(self, tag: str) -> Iterator[Placement]:
        plate, part = self.job.settings.plate, self.part(tag)
        for hole in self.idle:
            for foot in hole_offsets(part):
                yield Placement(x=hole.x - foot.x, y=hole.y - foot.y)
        across = _steps(plate.edge_margin, plate.width - plate.edge_margin - part.width)
        up = _steps(plate.edge_margin, plate.height - plate.edge_margin - part.height)
        for y, x in product(up, across):
            yield Placement(x=x, y=y)

    # --- rail devices -------------------------------------------------------------------------

    def _hung(
        self, tags: list[str], stand: dict[str, Placement], rails: int
    ) -> Iterator[tuple[dict[str, Placement], list[Rail]]]:
        """Yield places for rail devices on the drilled rails and so many new ones."""
        there = list(self.before.rails.values())
        if rails == 0:
            for devices in self._packed(tags, stand, [(r, r.x) for r in there]):
                yield devices, []
            return
        for new in self._new_rails(rails):
            ends = [(r, r.x) for r in (*there, *new)]
            for devices in self._packed(tags, stand, ends):
                cut = [self._cut(rail, devices) for rail in new]
                if all(rail is not None for rail in cut):
                    yield devices, [rail for rail in cut if rail is not None]

    def _new_rails(self, count: int) -> Iterator[tuple[Rail, ...]]:
        plate = self.job.settings.plate
        edge = plate.edge_margin
        ups = _steps(edge + 18.0, plate.height - edge - 18.0)
        lefts = _steps(edge, plate.width - edge - SHORTEST)
        axes = {rail.y for rail in self.before.rails.values()}
        single = [
            Rail(x=x, y=y, length=plate.width - edge - x)
            for y in sorted({*ups, *axes})
            for x in lefts
            if not any(
                d.box.bottom - 17.5 < y < d.box.top + 17.5 and d.box.left <= x < d.box.right
                for d in self.before.ducts.values()
            )
        ]
        yield from combinations(single, count)

    def _cut(self, rail: Rail, devices: dict[str, Placement]) -> Rail | None:
        """Return a rail cut to what hangs on it; ``None``: nothing does."""
        ends = [
            at.x + self.part(t).width
            for t, at in devices.items()
            if self.part(t).mount is Mount.RAIL
            and abs(at.y + (self.part(t).rail_center or 0.0) - rail.y) < 0.5
            and at.x >= rail.x - HAIR
            and not any(
                abs(r.y - rail.y) < 0.5 and r.x <= at.x + HAIR < r.x + r.length
                for r in self.before.rails.values()
            )
        ]
        return replace(rail, length=max(SHORTEST, max(ends) - rail.x)) if ends else None

    def _packed(
        self, tags: list[str], stand: dict[str, Placement], rails: list[tuple[Rail, float]]
    ) -> Iterator[dict[str, Placement]]:
        """Yield places for rail devices: each in turn as far left as it goes after the last."""
        if not tags:
            yield stand
            return
        first = {self.job.devices[t].part: t for t in reversed(tags)}  # like parts: one order
        for tag in first.values():
            rest = [t for t in tags if t != tag]
            tried = set()
            for k, (rail, start) in enumerate(rails):
                at = self._leftmost(tag, rail, start, stand)
                if at is None or (at.x, at.y) in tried:
                    continue
                tried.add((at.x, at.y))
                after = [*rails]
                after[k] = (rail, at.x + self.part(tag).width)
                yield from self._packed(rest, {**stand, tag: at}, after)

    def _leftmost(
        self, tag: str, rail: Rail, start: float, stand: dict[str, Placement]
    ) -> Placement | None:
        part = self.part(tag)
        y = rail.y - (part.rail_center or 0.0)
        starts = {start}
        for other, at in stand.items():
            box, gap = self._box(other, at), self._side(tag, other)
            starts |= {box.right + gap}
        for x in sorted(s for s in starts if s >= start - HAIR):
            if x + part.width > rail.x + rail.length + HAIR:
                return None
            at = Placement(x=round(x, 3), y=y)
            if self._clear(tag, at, stand):
                return at
        return None

    # --- what may stand beside what -----------------------------------------------------------

    def _box(self, tag: str, at: Placement) -> Box:
        return envelope_box(self.part(tag), at)

    def _side(self, one: str, other: str) -> float:
        a, b = self.part(one), self.part(other)
        return max(a.clear_left or 0, a.clear_right or 0, b.clear_left or 0, b.clear_right or 0)

    def _clear(self, tag: str, at: Placement, stand: dict[str, Placement]) -> bool:
        """Tell whether a device keeps on the plate, off ducts and neighbours, and their distances."""
        part, box, plate = self.part(tag), self._box(tag, at), self.job.settings.plate
        edge = plate.edge_margin - HAIR
        if (
            min(box.left, box.bottom) < edge
            or box.right > plate.width - edge
            or box.top > plate.height - edge
        ):
            return False
        above, below = part.clear_top or 0.0, part.clear_bottom or 0.0
        for duct in self.before.ducts.values():
            if _too_near(box, duct.box, (0.0, below, above)):
                return False
        for other, where in stand.items():
            them = self.part(other)
            gaps = (
                self._side(tag, other),
                max(below, them.clear_top or 0.0),
                max(above, them.clear_bottom or 0.0),
            )
            if _too_near(box, self._box(other, where), gaps):
                return False
        return True


def _too_near(box: Box, other: Box, gaps: tuple[float, float, float]) -> bool:
    """Tell whether another box lies too near: gaps beside, below and above the first."""
    beside, below, above = gaps
    in_x = min(box.right, other.right) - max(box.left, other.left)
    in_y = min(box.top, other.top) - max(box.bottom, other.bottom)
    if in_x > HAIR and in_y > HAIR:
        return True
    if in_y > HAIR:
        return -in_x < beside - HAIR
    if in_x > HAIR:
        return -in_y < (above if other.bottom >= box.top - HAIR else below) - HAIR
    return False


def _steps(low: float, high: float) -> list[float]:
    return [low + STEP * k for k in range(int((high - low) // STEP) + 1)] if high >= low else []
