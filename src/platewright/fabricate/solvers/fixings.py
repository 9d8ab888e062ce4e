"""Where a rail or a duct is screwed to the plate.

A rail is held in its slots, a duct in those of its base where they are stated, else anywhere along
its axis, drilled through; a wide duct, and one with two lines of slots, in two lines by turns.
A spot is free when the screw's head clears the plate's own fixing holes and regions kept free,
its hole clears the plate's edge and other holes, and chuck and screwdriver reach it (``around``).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import count, takewhile
from math import hypot
from typing import Final

from platewright.fabricate.around import Around, KeptOff
from platewright.fabricate.fastening import FEWEST, limits_of
from platewright.fabricate.holding import Holding, holding_duct, holding_rail
from platewright.fabricate.slots import ON_THE_SPOT, OWN_OFF, Slots, slots_of
from platewright.fabricate.solvers.spots import Span, Spot, Sunk, choose_spots, excess
from platewright.fabricate.stretches import Stretch
from platewright.foundation.units import UM_PER_MM, Kg, Mm
from platewright.model.geometry import TOUCH, Box, Point
from platewright.model.job import Job, Plate
from platewright.model.layout import Duct, Hole, Layout, Rail, Run
from platewright.model.part import Mount
from platewright.tables.fixings import fixing_limits
from platewright.tables.hole_spacing import hole_spacing

DUCT_RASTER: Final[Mm] = 5.0  # fixings of a duct stand at multiples of this from its end
LEAST_APART: Final = 2.0  # hole diameters: a web as wide as a hole, where 3 can't be had
DUCT_END: Final[Mm] = 10.0  # and no nearer to its ends than this: the washer stays on the base
QUARTER: Final = 0.25  # two lines stand this share of the width off the axis


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A piece to be fixed: its axis, the spots where it may be held, its limits, its screw."""

    tag: str
    start: Point  # left or lower end, on the axis
    run: Run
    length: Mm
    lines: tuple[Mm, ...]  # offsets of the lines of fixings, across the axis
    raster: tuple[Mm, ...]  # spots along the axis
    end: Mm
    span: Mm
    by: Holding
    slots: Slots | None = None  # its own; the raster is of them
    drilled: tuple[Mm, ...] = ()  # spots without a slot, drilled where the slots do not do

    def point(self, at: Mm, line: Mm) -> Point:
        """Return the place on the plate of a spot."""
        if self.run is Run.ACROSS:
            return Point(self.start.x + at, self.start.y + line)
        return Point(self.start.x + line, self.start.y + at)

    @property
    def box(self) -> Box:
        """The region in which fixings may lie."""
        low, high = self.point(0.0, min(self.lines)), self.point(self.length, max(self.lines))
        return Box(low.x, low.y, high.x, high.y)

    def along(self, point: Point, off: Mm = ON_THE_SPOT) -> Mm | None:
        """Return how far along the piece a point on one of its lines lies; None: on none.

        ``off``: what the point may lie beside a line.
        """
        at, across = point.x - self.start.x, point.y - self.start.y
        if self.run is Run.UPRIGHT:
            at, across = across, at
        near = any(abs(across - line) <= off for line in self.lines)
        return at if near and 0.0 < at < self.length else None

    def lacks_slot(self, at: Mm) -> bool:
        """Tell whether a piece that has slots has none here: then it must be drilled."""
        return self.slots is not None and bool(self.slots.missed([at], screw=self.by.shank))


def rail_strip(
    tag: str, rail: Rail, job: Job, layout: Layout, part: Stretch | None = None
) -> Strip:
    """Return what has to be fixed of a rail, or of one of its pieces."""
    stock, length = job.settings.stock, rail.length if part is None else part.length
    slots = slots_of(rail, stock)
    assert slots is not None  # noqa: S101  (a rail has slots)
    end, span = limits_of(rail, job, heaviest=heaviest_on(rail, job, layout))
    return Strip(
        tag=tag,
        start=_moved(Point(rail.x, rail.y), rail.run, part),
        run=rail.run,
        length=length,
        lines=(0.0,),
        raster=slots.places(length, margin=slots.pitch / 2),
        end=end,
        span=span,
        by=holding_rail(job),
        slots=slots,
    )


def duct_strip(tag: str, duct: Duct, job: Job, part: Stretch | None = None) -> Strip:
    """Return what has to be fixed of a duct, or of one of its pieces: in its slots if it has any."""
    limits, length = fixing_limits("duct"), duct.length if part is None else part.length
    end, span = limits_of(duct, job)
    middle = duct.width / 2
    across = duct.run is Run.ACROSS
    wide = limits.two_lines is not None and duct.width >= limits.two_lines
    spots = (n * DUCT_RASTER for n in count(round(DUCT_END / DUCT_RASTER)))
    anywhere = tuple(takewhile(lambda at: at <= length - DUCT_END, spots))
    lines = (-QUARTER * duct.width, QUARTER * duct.width) if wide else (0.0,)
    axis = Point(duct.x, duct.y + middle) if across else Point(duct.x + middle, duct.y)
    slots = slots_of(duct, job.settings.stock)
    in_slots: tuple[Mm, ...] = ()
    if slots is not None:
        in_slots = slots.places(length, margin=max(DUCT_END, (slots.length or 0.0) / 2))
    return Strip(
        tag=tag,
        start=_moved(axis, duct.run, part),
        run=duct.run,
        length=length,
        lines=lines if slots is None else slots.lines,
        raster=anywhere if slots is None else in_slots,
        end=end,
        span=span,
        by=holding_duct(job),
        slots=slots,
        drilled=() if slots is None else anywhere,
    )


def _moved(axis: Point, run: Run, part: Stretch | None) -> Point:
    """Return where a piece starts on the axis of its rail or duct."""
    by = 0.0 if part is None else part.start
    return Point(axis.x + by, axis.y) if run is Run.ACROSS else Point(axis.x, axis.y + by)


def heaviest_on(rail: Rail, job: Job, layout: Layout) -> Kg:
    """Return the mass of the heaviest device hanging on a rail across; not stated counts as 0."""
    masses = [0.0]
    for tag, at in layout.devices.items():
        part = job.part_of(tag)
        if rail.run is not Run.ACROSS or part.mount is not Mount.RAIL or part.rail_center is None:
            continue
        beside = at.x >= rail.x + rail.length or at.x + part.width <= rail.x
        if abs(at.y + part.rail_center - rail.y) <= ON_THE_SPOT and not beside:
            masses.append(part.mass or 0.0)
    return max(masses)


def fixing_points(
    strip: Strip,
    plate: Plate,
    *,
    edge: Mm | None,
    holes: Sequence[Hole],
    sunk: Mapping[str, Hole],
    around: Around | None = None,
) -> tuple[Point | str, ...]:
    """Return where the piece is fixed: new points, and tags of sunk holes that serve.

    ``holes``: all that is or will be in the plate. ``sunk``: those that may serve here. Where
    the limits can't be met, the nearest to them; new holes stand well apart from others unless
    only a closer one meets the limits, and where nothing need come off unless that is so too. The
    base of a duct with slots is drilled only where its slots don't do.
    """
    near = (around or Around()).near(strip.box)
    usual = hole_spacing()
    serving = list(_serving(strip, plate, sunk, near))
    # what was drilled for it a little off asks for no further hole
    off = OWN_OFF if any(spot.sunk is Sunk.OWN for spot in serving) else 0.0
    span = Span(
        length=_um(strip.length),
        end=_um(strip.end + off),
        span=_um(strip.span + off),
        least=_um(usual.centres * strip.by.choice.drill),
    )
    bare, closer = (*near.barred, *near.better_not), near.barred
    tries = [
        (usual.centres, bare, False),
        (usual.centres, closer, False),
        (LEAST_APART, closer, False),
    ]
    if strip.drilled:
        tries.append((usual.centres, closer, True))
    best: tuple[Spot, ...] = ()
    for apart, kept_off, may_drill in tries:
        raster = sorted({*strip.raster, *(strip.drilled if may_drill else ())})
        free = _free_spots(strip, plate, raster, edge=edge, holes=holes, apart=apart)
        reached = [s for s in free if not _is_barred(_point(strip, s), kept_off)]
        old = [s for s in serving if may_drill or not (s.bare and s.sunk is Sunk.LEFT_OVER)]
        tried = choose_spots([*old, *reached], span)
        if _is_better(tried, best, span):
            best = tried
        if len(best) >= FEWEST and excess(best, span) == 0:
            break
    return tuple(spot.hole or _point(strip, spot) for spot in best)


def _is_better(tried: Sequence[Spot], best: Sequence[Spot], span: Span) -> bool:
    """Tell whether a choice holds the piece better: twice at least, then nearer to the limits."""
    if not best:
        return True
    return (len(tried) < FEWEST, excess(tried, span)) < (len(best) < FEWEST, excess(best, span))


def _serving(strip: Strip, plate: Plate, sunk: Mapping[str, Hole], near: Around) -> Iterator[Spot]:
    """Yield the spots of holes that are in the plate already and may hold the piece."""
    for tag, hole in sunk.items():
        is_own = hole.holds == strip.tag
        at = strip.along(hole.centre, OWN_OFF if is_own else ON_THE_SPOT)
        barred = not is_own and any(one.bars(hole.centre) for one in near.barred)
        if at is not None and not barred and _clears_plate(hole.centre, strip, plate):
            state = Sunk.OWN if is_own else Sunk.LEFT_OVER
            yield Spot(at=_um(at), sunk=state, hole=tag, bare=strip.lacks_slot(at))


def _free_spots(
    strip: Strip,
    plate: Plate,
    raster: Sequence[Mm],
    *,
    edge: Mm | None,
    holes: Sequence[Hole],
    apart: float,
) -> Iterator[Spot]:
    """Yield spots where a new hole may be drilled."""
    drill = strip.by.choice.drill
    margin = hole_spacing().edge * drill if edge is None else edge
    sides = plate.box.grown(-margin, -margin, -margin, -margin)
    box, head = strip.box, strip.by.head
    rooms = [(hole.centre, apart * max(drill, hole.drill)) for hole in holes]
    rooms += [(fixing.centre, fixing.keep_out / 2 + head) for fixing in plate.fixing_holes]
    near = [(centre.x, centre.y, room) for centre, room in rooms if box.distance_to(centre) < room]
    regions = [r.box for r in plate.keep_outs if min(r.box.overlap(box)) > -head]
    for at in raster:
        bare, whole = strip.lacks_slot(at), _um(at)
        for line, off in enumerate(strip.lines):
            point = strip.point(whole / UM_PER_MM, off)
            x, y = point.x, point.y
            if (
                sides.contains(point)
                and all(hypot(x - there, y - above) >= room for there, above, room in near)
                and all(region.distance_to(point) >= head for region in regions)
            ):
                yield Spot(at=whole, line=line if len(strip.lines) > 1 else None, bare=bare)


def _is_barred(point: Point, off: Sequence[KeptOff]) -> bool:
    """Tell whether a point comes too near one of these: asked of every spot, so most are passed."""
    x, y = point.x, point.y
    for one in off:
        box, room = one.box, one.room + TOUCH
        if (
            box.left - x < room
            and x - box.right < room
            and box.bottom - y < room
            and y - box.top < room
            and one.bars(point)
        ):
            return True
    return False


def _clears_plate(point: Point, strip: Strip, plate: Plate) -> bool:
    """Tell whether a screw's head here clears the plate's fixings and regions kept free."""
    head = strip.by.head
    return all(
        _distance(point, fixing.centre) >= fixing.keep_out / 2 + head
        for fixing in plate.fixing_holes
    ) and all(region.box.distance_to(point) >= head for region in plate.keep_outs)


def _point(strip: Strip, spot: Spot) -> Point:
    return strip.point(spot.at / UM_PER_MM, strip.lines[spot.line or 0])


def _distance(a: Point, b: Point) -> Mm:
    return hypot(a.x - b.x, a.y - b.y)


def _um(length: Mm) -> int:
    return round(length * UM_PER_MM)
