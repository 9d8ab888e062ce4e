"""One arrangement task: the job's blocks and wires, the ducts to use, and the frame of rows."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from platewright.arrange.arrays import (
    AT_BOTTOM,
    AT_TOP,
    BEFORE,
    BESIDE,
    NOT_BESIDE,
    SAME_ROW,
    Blocks,
    Frame,
    Wiring,
)
from platewright.arrange.blocks import Block, block_arrays, blocks_of, told_up, wiring_arrays
from platewright.arrange.room import Room, Zone, room_on
from platewright.arrange.warmth import Warmth, warmth_arrays
from platewright.foundation.units import MM_PER_M, Mm
from platewright.model.device import Edge
from platewright.model.geometry import Box
from platewright.model.job import DuctPattern, DuctStock, Job, Side
from platewright.model.layout import Duct, Placement, Rail, Run
from platewright.model.need import ClearSpace, WiringSpace

RAIL_HALF: Mm = 17.5  # half the width of a 35 mm rail
_STAYS = 0.2  # m of wire that a piece of rail is worth at least, once rails stay
_STEP: Mm = 0.001  # places are told to this step
_JOINED: Mm = 6.0  # left at most between the end of a duct across and the upright one beside it
SHORTEST_RAIL: Mm = 55.0  # two slots of a 25 mm raster and their ends


@dataclass(frozen=True, slots=True, kw_only=True)
class DuctSizes:
    """The ducts of a plate in rows: across from the top down, and the upright ones."""

    across: tuple[DuctStock, ...]
    left: DuctStock | None
    right: DuctStock | None
    middle: DuctStock | None = None

    @property
    def rows(self) -> int:
        """Rows between the ducts across."""
        return len(self.across) - 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """What is there already and must stay: devices, and (once drilled or locked) ducts and rails."""

    devices: Mapping[str, Placement] = field(default_factory=dict)
    ducts: Mapping[str, Duct] = field(default_factory=dict)
    rails: Mapping[str, Rail] = field(default_factory=dict)
    open_above: Mm | None = None  # a row on bare plate above the ducts that stay reaches up to here
    open_below: Mm | None = None  # one below them reaches down to here
    on_rails: bool = (
        False  # all that hangs is to hang on rails that stay, so none has a least length
    )

    @property
    def across(self) -> tuple[Duct, ...]:
        """Ducts across that stay, from the top down; pieces of one line stand for their whole.

        The far edge of an open row stands among them, as a duct without width.
        """
        lines: dict[Mm, Duct] = {}
        for duct in sorted(self.ducts.values(), key=lambda d: d.x):
            if duct.run is Run.ACROSS:
                line = lines.get(duct.y, duct)
                lines[duct.y] = replace(line, length=duct.x + duct.length - line.x)
        real = sorted(lines.values(), key=lambda d: -d.y)
        above = [replace(d, y=y, width=0.0) for d in real[:1] if (y := self.open_above) is not None]
        below = [
            replace(d, y=y, width=0.0) for d in real[-1:] if (y := self.open_below) is not None
        ]
        return (*above, *real, *below)

    @property
    def upright(self) -> tuple[Duct, ...]:
        """Upright ducts that stay, from the left."""
        return tuple(
            sorted((d for d in self.ducts.values() if d.run is Run.UPRIGHT), key=lambda d: d.x)
        )

    @property
    def has_rows(self) -> bool:
        """Whether the ducts that stay already make the rows."""
        return len(self.across) > 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """Everything the search needs besides the number of rows and the duct sizes."""

    job: Job
    standing: Standing
    blocks: tuple[Block, ...]
    arrays: Blocks
    room: Room
    warmth: Warmth | None = None
    # by hinge axis: every search asks for them, and reading the wires takes as long as many moves
    _wirings: dict[Mm, Wiring] = field(default_factory=dict, repr=False, compare=False)

    def wiring(self, hinge_axis: Mm) -> Wiring:
        """Return the wires as arrays, for the duct axis that door wires leave from."""
        if hinge_axis not in self._wirings:
            hinge = (hinge_axis, self.job.settings.hinge_line)
            self._wirings[hinge_axis] = wiring_arrays(self.job, self.blocks, hinge)
        return self._wirings[hinge_axis]


def task_for(
    job: Job,
    *,
    clear: Mapping[str, ClearSpace],
    wiring: Mapping[str, WiringSpace],
    standing: Standing,
    warmth: Warmth | None = None,
) -> Task:
    """Gather the task of arranging a job's plate devices."""
    blocks = blocks_of(job, standing.devices)
    return Task(
        job=job,
        standing=standing,
        blocks=blocks,
        arrays=block_arrays(job, blocks, clear, wiring),
        room=_room(job, standing),
        warmth=warmth,
    )


def _room(job: Job, standing: Standing) -> Room:
    """Return the room of a plate; an open row goes round what rows between ducts keep clear of."""
    room = room_on(job)
    if standing.open_above is None and standing.open_below is None:
        return room
    plate = job.settings.plate
    holes = ((h.x, h.y, h.keep_out / 2) for h in plate.fixing_holes)
    regions = [Box(x - r, y - r, x + r, y + r) for x, y, r in holes]
    regions += [keep_out.box for keep_out in plate.keep_outs]
    edge, high = plate.edge_margin, plate.height
    regions += [Box(0.0, -high, plate.width, edge), Box(0.0, high - edge, plate.width, 2 * high)]
    beside = [Zone(box, -1.0) for box in regions if not box.overlaps(room.box)]
    return replace(room, zones=(*room.zones, *beside))


def uniform_sizes(task: Task, rows: int, stock: DuctStock, *, middle: bool = False) -> DuctSizes:
    """Return one duct size throughout, in the job's pattern, with or without a middle duct."""
    pattern = task.job.settings.pattern
    return DuctSizes(
        across=(stock,) * (rows + 1),
        left=stock if pattern in (DuctPattern.BOTH_SIDES, DuctPattern.LEFT) else None,
        right=stock if pattern in (DuctPattern.BOTH_SIDES, DuctPattern.RIGHT) else None,
        middle=stock if middle else None,
    )


def _inner_edges(task: Task, sizes: DuctSizes) -> tuple[Mm, Mm]:
    """Return the space between the upright ducts."""
    box = task.room.box
    if task.standing.has_rows:
        span = task.standing.across[0].box
        sides = [duct.box for duct in task.standing.upright]
        lefts = [b.right for b in sides if 0.0 <= span.left - b.right <= _JOINED]
        rights = [b.left for b in sides if 0.0 <= b.left - span.right <= _JOINED]
        return max(lefts, default=span.left), min(rights, default=span.right)
    left = box.left + (sizes.left.width if sizes.left else 0.0)
    right = box.right - (sizes.right.width if sizes.right else 0.0)
    return float(math.ceil(left - 1e-9)), float(math.floor(right + 1e-9))


def middle_span(task: Task, sizes: DuctSizes) -> tuple[Mm, Mm] | None:
    """Return left and right edge of the duct in the middle, if there is one."""
    left, right = _inner_edges(task, sizes)
    if task.standing.has_rows:
        inside = [d for d in task.standing.upright if left < d.x + d.width / 2 < right]
        return (inside[0].x, inside[0].x + inside[0].width) if inside else None
    if sizes.middle is None:
        return None
    start = float(round((left + right - sizes.middle.width) / 2))
    return start, start + sizes.middle.width


def upright_axes(task: Task, sizes: DuctSizes) -> tuple[Mm, ...]:
    """Return the axes of the upright ducts, left to right."""
    if task.standing.has_rows:
        return tuple(d.x + d.width / 2 for d in task.standing.upright)
    box = task.room.box
    axes = []
    if sizes.left:
        axes.append(box.left + sizes.left.width / 2)
    middle = middle_span(task, sizes)
    if middle:
        axes.append((middle[0] + middle[1]) / 2)
    if sizes.right:
        axes.append(box.right - sizes.right.width / 2)
    return tuple(axes)


def _hinge_axis(task: Task, sizes: DuctSizes) -> Mm:
    """Return the axis of the upright duct nearest to the door's hinge."""
    axes = upright_axes(task, sizes)
    left, right = _inner_edges(task, sizes)
    if not axes:
        axes = (left, right)
    return axes[0] if task.job.settings.enclosure.hinge is Side.LEFT else axes[-1]


def _zone_rows(task: Task, sizes: DuctSizes) -> np.ndarray:
    """Return the zones, and the boxes of fixed devices, as the search's array of boxes."""
    tallest_duct = max(s.height + s.cover_height for s in sizes.across)
    deepest = max(task.arrays.front[: task.arrays.free], default=0.0)
    rows: list[list[float]] = []
    for zone in task.room.zones:
        b = zone.box
        blocks_ducts = float(zone.tallest < tallest_duct)
        if zone.tallest >= deepest and not blocks_ducts:
            continue  # nothing is too tall for it
        rows.append([b.left, b.bottom, b.right, b.top, zone.tallest, blocks_ducts, 0.0])
    middle = middle_span(task, sizes)
    if middle:
        rows.append([middle[0], -math.inf, middle[1], math.inf, -1.0, 0.0, 1.0])
    for rail in task.standing.rails.values():
        b = _rail_box(rail)  # a body lies flat across no rail and over no screw of it
        rows.append([b.left, b.bottom, b.right, b.top, -1.0, 0.0, 2.0])
        if rail.run is Run.ACROSS:  # nothing hangs across its end
            ends = (b.left - _STEP, b.right)
            rows += [[x, b.bottom, x + _STEP, b.top, -1.0, 0.0, 0.0] for x in ends]
    rows += _beside_rails(task)
    arrays = task.arrays
    for f in range(arrays.free, len(arrays.width)):
        low, top = arrays.ref[f] - arrays.down[f], arrays.ref[f] + arrays.up[f]
        right = arrays.x[f] + arrays.width[f]
        rows.append([arrays.x[f], low, right, top, math.inf, 1.0, 0.0])
    return np.array(rows, dtype=np.float64).reshape(-1, 7)


def _beside_rails(task: Task) -> list[list[float]]:
    """Return the stretches without rail, where all that is free is to hang on rails that stay."""
    free = range(task.arrays.free)
    if not task.standing.on_rails or not all(task.arrays.on_rail[b] for b in free):
        return []
    across = [q for q in task.standing.rails.values() if q.run is Run.ACROSS]
    end = task.job.settings.plate.width
    found: list[list[float]] = []
    for y in sorted({q.y for q in across}):
        spans = sorted((q.x, q.x + q.length) for q in across if q.y == y)
        lefts = [0.0, *(right for _, right in spans)]
        rights = [*(left for left, _ in spans), end]
        found += [
            [a, y - 1.0, b, y + 1.0, -1.0, 0.0, 0.0]
            for a, b in zip(lefts, rights, strict=True)
            if b - a > _STEP
        ]
    return found


def _rail_box(rail: Rail) -> Box:
    """Return a rail's footprint."""
    if rail.run is Run.ACROSS:
        return Box(rail.x, rail.y - RAIL_HALF, rail.x + rail.length, rail.y + RAIL_HALF)
    return Box(rail.x - RAIL_HALF, rail.y, rail.x + RAIL_HALF, rail.y + rail.length)


def _wishes(task: Task) -> np.ndarray:
    """Return the wishes between blocks; a wish inside one block needs no search."""
    block_of = {m.tag: k for k, block in enumerate(task.blocks) for m in block.members}
    rows: list[list[int]] = []
    for device in task.job.on_plate:
        here = block_of[device.tag]
        for kind, other in (
            (BESIDE, device.beside),
            (SAME_ROW, device.same_row),
            (BEFORE, device.before),
            (NOT_BESIDE, device.not_beside),
        ):
            there = block_of.get(other or "")
            if there is not None and there != here:
                rows.append([kind, here, there])
        if device.at is not None:
            rows.append([AT_TOP if device.at is Edge.TOP else AT_BOTTOM, here, here])
    return np.array(rows, dtype=np.int64).reshape(-1, 3)


def _fixed_bands(task: Task) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return top, bottom and rail axis (nan: free) of the rows between ducts that stay."""
    across = task.standing.across
    tops = np.array([d.box.bottom for d in across[:-1]])
    bottoms = np.array([d.box.top for d in across[1:]])
    axes = np.full(len(tops), np.nan)
    for r in range(len(tops)):
        held = [
            q
            for q in task.standing.rails.values()
            if q.run is Run.ACROSS and bottoms[r] < q.y < tops[r]
        ]
        if held:
            axes[r] = max(held, key=lambda q: (q.length, -q.x)).y
        else:
            axes[r] = _axis_of_devices(task, float(bottoms[r]), float(tops[r]))
    return tops, bottoms, axes


def _axis_of_devices(task: Task, bottom: Mm, top: Mm) -> Mm:
    """Return the axis on which most of a row's rail devices stand that stay; nan: none does."""
    arrays = task.arrays
    fixed = range(arrays.free, len(arrays.width))
    axes = [float(arrays.ref[f]) for f in fixed if arrays.on_rail[f]]
    here = [axis for axis in axes if bottom < axis < top]
    return max(here, key=lambda axis: (here.count(axis), axis), default=math.nan)


def frame_for(task: Task, sizes: DuctSizes) -> Frame:
    """Return rows, ducts, zones and weights as the search reads them."""
    settings = task.job.settings
    aims, limits = settings.aims, settings.limits
    left, right = _inner_edges(task, sizes)
    fixed = task.standing.has_rows
    tops, bottoms, axes = _fixed_bands(task) if fixed else (np.zeros(0),) * 3
    box = task.room.box
    widths = [s.width for s in sizes.across]
    if fixed:
        widths = [d.width for d in task.standing.across]
        box = Box(box.left, 0.0, box.right, task.standing.across[0].box.top)
    boxes = _zone_rows(task, sizes)
    rails = np.array(
        [
            (q.y, q.x, q.x + q.length)
            for q in task.standing.rails.values()
            if fixed and q.run is Run.ACROSS
        ]
    ).reshape(-1, 3)
    half_widths = {d.tag: task.job.part_of(d.tag).width / 2 for d in task.job.on_plate}
    hot, air = warmth_arrays(task.warmth, task.blocks, half_widths)
    return Frame(
        rows=sizes.rows,
        left=float(left),
        right=float(right),
        top=float(box.top),
        bottom=float(box.bottom),
        duct=np.array(widths, dtype=np.float64),
        upright_x=np.array(upright_axes(task, sizes), dtype=np.float64),
        hinge_x=float(_hinge_axis(task, sizes)),
        side_gap=told_up(limits.side_gap),
        group_gap=told_up(limits.group_gap),
        rail_min=0.0 if task.standing.on_rails else SHORTEST_RAIL,
        usable=1.0 - settings.row_spare,
        fixed=int(fixed),
        row_top=tops,
        row_bottom=bottoms,
        row_axis=axes,
        box=boxes,
        shifts=int(
            len(task.arrays.width) > task.arrays.free  # rows must be able to meet what stands
            or any(row[4] < math.inf and not row[6] for row in boxes)
        ),
        wish=_wishes(task),
        w_wire=float(aims.wire),
        w_height=float(aims.height),
        w_wish=aims.wish * MM_PER_M,
        w_rail=max(aims.rail_piece, _STAYS if len(rails) else 0.0) * MM_PER_M,
        rail=rails,
        w_uprights=float(aims.duct * len(upright_axes(task, sizes))),
        w_zone=aims.zone * MM_PER_M,
        w_cool=aims.cool * MM_PER_M if len(hot) else 0.0,
        hot=hot,
        air=air,
        base=float(aims.duct * (sizes.rows + 1) * (right - left)),
    )


def wiring_for(task: Task, sizes: DuctSizes) -> Wiring:
    """Return the wires as arrays, for the hinge duct these sizes give."""
    return task.wiring(_hinge_axis(task, sizes))


def fewest_rows(task: Task, sizes: DuctSizes) -> int:
    """Return a row count below which the blocks' widths cannot fit."""
    left, right = _inner_edges(task, sizes)
    usable = max(1.0, (right - left) * (1.0 - task.job.settings.row_spare))
    return max(1, math.ceil(float(np.sum(task.arrays.width)) / usable))
