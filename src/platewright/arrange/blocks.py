"""Read the job as blocks and wires for the search.

Device data is read here anew, and not through the rulers the checks measure with: the checker
must be able to catch a mistake made here.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from platewright.arrange.arrays import Blocks, Wiring
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.device import Device
from platewright.model.job import CableEntry, Job
from platewright.model.layout import Placement
from platewright.model.need import ClearSpace, WiringSpace
from platewright.model.part import Mount, Part

_USUAL_RAIL: Mm = 7.5  # part depths include a rail of this height
_TALL_RAIL: Mm = 15.0
_STEPS_PER_MM = 1000


@dataclass(frozen=True, slots=True)
class Member:
    """A device in a block: its body's lower left corner from the block's left edge and line."""

    tag: str
    dx: Mm
    dy: Mm
    held_above: bool  # another device of the block stands at once above it
    holds_below: bool
    held_left: bool
    held_right: bool


@dataclass(frozen=True, slots=True)
class Block:
    """Devices that move as one, and where they stand when fixed (left edge, reference line)."""

    members: tuple[Member, ...]
    fixed_at: tuple[Mm, Mm] | None = None

    @property
    def head(self) -> str:
        """The device the others are attached to."""
        return self.members[0].tag


def told_up(length: Mm) -> Mm:
    """Return a length rounded up to the step that places are told in.

    Up, so that what was packed side by side never overlaps by the rounding.
    """
    return math.ceil(length * _STEPS_PER_MM - 1e-6) / _STEPS_PER_MM


def rail_height(profile: str) -> Mm:
    """Return the height of a rail profile, read from its name (``TH35-15``)."""
    return _TALL_RAIL if profile.startswith("TH35-15") else _USUAL_RAIL


def _line_above_bottom(part: Part) -> Mm:
    """Return how far the reference line lies above the body's lower edge."""
    if part.mount is Mount.RAIL:
        return part.rail_center or 0.0
    return part.height / 2


def _children(devices: Mapping[str, Device]) -> dict[str, list[Device]]:
    """Return who is attached to whom."""
    found: dict[str, list[Device]] = {}
    for device in devices.values():
        parent = device.plugs_into or device.hangs_under
        if parent is not None and parent in devices:
            found.setdefault(parent, []).append(device)
    return found


def _body_places(
    job: Job, head: Device, children: Mapping[str, list[Device]]
) -> list[tuple[Device, Mm, Mm]]:
    """Return each device of a block with its body's corner from the head's body and line."""
    first = job.part_of(head.tag)
    places = [(head, 0.0, -_line_above_bottom(first))]
    for device, x, y in places:
        part = job.part_of(device.tag)
        for child in children.get(device.tag, []):
            other = job.part_of(child.tag)
            if child.plugs_into is not None:
                line = y + _line_above_bottom(part)
                places.append((child, x + told_up(part.width), line - _line_above_bottom(other)))
            else:
                places.append((child, x + (part.width - other.width) / 2, y - other.height))
    return places


def _block(
    job: Job,
    head: Device,
    children: Mapping[str, list[Device]],
    standing: Mapping[str, Placement],
) -> Block:
    places = _body_places(job, head, children)
    left = -told_up(-min(x - (job.part_of(d.tag).cover_left or 0.0) for d, x, _ in places))
    members = tuple(
        Member(
            tag=device.tag,
            dx=x - left,
            dy=y,
            held_above=device.hangs_under is not None and device.tag != head.tag,
            holds_below=any(c.hangs_under for c in children.get(device.tag, [])),
            held_left=device.plugs_into is not None and device.tag != head.tag,
            held_right=any(c.plugs_into for c in children.get(device.tag, [])),
        )
        for device, x, y in places
    )
    for member in members:
        at = standing.get(member.tag)
        if at is not None:
            return Block(members, (at.x - member.dx, at.y - member.dy))
    return Block(members)


def blocks_of(job: Job, standing: Mapping[str, Placement]) -> tuple[Block, ...]:
    """Return the job's blocks: free ones first, by tag (the lists' order changes nothing).

    Then the fixed ones from the left.

    ``standing`` holds the devices that must stay where they are.
    """
    devices = {d.tag: d for d in sorted(job.on_plate, key=lambda d: tag_order(d.tag))}
    children = _children(devices)
    blocks = [
        _block(job, device, children, standing)
        for device in devices.values()
        if (device.plugs_into or device.hangs_under) not in devices
    ]
    free = [b for b in blocks if b.fixed_at is None]
    held = [b for b in blocks if b.fixed_at is not None]
    return (*free, *sorted(held, key=lambda b: (b.fixed_at or (0.0, 0.0))[0]))


def _reach(
    job: Job, block: Block, clear: Mapping[str, ClearSpace], wiring: Mapping[str, WiringSpace]
) -> dict[str, float]:
    """Return the block's extents and needs as one row of the arrays."""
    parts = [(m, job.part_of(m.tag)) for m in block.members]
    width = max(m.dx + p.width + (p.cover_right or 0.0) for m, p in parts)
    settings = job.settings
    row: dict[str, float] = dict.fromkeys(
        ("up", "down", "clear_left", "clear_right", "env_up", "env_down", "front"), 0.0
    )
    for m, p in parts:
        need, wires = clear[m.tag], wiring[m.tag]
        top, low = m.dy + p.height, -m.dy
        cover_top, cover_low = p.cover_top or 0.0, p.cover_bottom or 0.0
        row["env_up"] = max(row["env_up"], top + cover_top)
        row["env_down"] = max(row["env_down"], low + cover_low)
        above = 0.0 if m.held_above else cover_top + need.top.room
        below = 0.0 if m.holds_below else cover_low + need.bottom.room
        if wires.top is not None and not m.held_above:
            above = max(above, wires.top.room)
        if wires.bottom is not None and not m.holds_below:
            below = max(below, wires.bottom.room)
        row["up"] = max(row["up"], top + above)
        row["down"] = max(row["down"], low + below)
        if not m.held_left:
            past = m.dx - (p.cover_left or 0.0)
            row["clear_left"] = max(row["clear_left"], need.left.room - past)
        if not m.held_right:
            past = width - (m.dx + p.width + (p.cover_right or 0.0))
            row["clear_right"] = max(row["clear_right"], need.right.room - past)
        front = p.depth + (p.cover_front or 0.0)
        if p.mount is Mount.RAIL:
            front += rail_height(job.settings.stock.rail.profile) - _USUAL_RAIL
        if p.shaft_x is not None or p.shaft_y is not None:  # its shaft goes to the door
            front = max(front, settings.enclosure.door_inside - settings.limits.door_gap)
        row["front"] = max(row["front"], front)
    row["width"] = width
    return row


def _groups(job: Job, block: Block) -> int:
    """Return the voltage groups of a block as bits: those all its devices share, if any."""
    order = {g.name: k for k, g in enumerate(job.settings.groups) if not g.protective}
    masks = [
        sum(1 << order[g] for g in job.devices[m.tag].group if g in order) for m in block.members
    ]
    stated = [mask for mask in masks if mask]
    shared = (1 << len(order)) - 1
    for mask in stated:
        shared &= mask
    if shared or not stated:
        return shared if stated else 0
    return stated[0]


def _pull(job: Job, block: Block, field: Mapping[str, int]) -> float:
    """Return what one mm of height costs: heavy blocks belong low, hot ones high.

    Terminals belong near the side where their cables come in.
    """
    aims = job.settings.aims
    parts = [job.part_of(m.tag) for m in block.members]
    cost = sum(aims.heavy_low * (p.mass or 0.0) - aims.hot_high * (p.heat or 0.0) for p in parts)
    return cost + _to(job, block, field, CableEntry.BOTTOM, CableEntry.TOP)


def _to(
    job: Job, block: Block, field: Mapping[str, int], low: CableEntry, high: CableEntry
) -> float:
    """Return what a mm away from ``low`` costs the field conductors of a block."""
    entry = job.settings.enclosure.cable_entry
    sign = 1.0 if entry is low else -1.0 if entry is high else 0.0
    return sign * job.settings.aims.entry * sum(field.get(m.tag, 0) for m in block.members)


def block_arrays(
    job: Job,
    blocks: tuple[Block, ...],
    clear: Mapping[str, ClearSpace],
    wiring: Mapping[str, WiringSpace],
) -> Blocks:
    """Return the blocks as arrays."""
    reach = [_reach(job, block, clear, wiring) for block in blocks]

    def in_steps(name: str) -> np.ndarray:
        return np.array([told_up(row[name]) for row in reach], dtype=np.float64)

    def column(name: str) -> np.ndarray:
        return np.array([row[name] for row in reach], dtype=np.float64)

    fixed = [b.fixed_at or (0.0, 0.0) for b in blocks]
    field = job.field_conductors
    rail = [job.part_of(b.head).mount is Mount.RAIL for b in blocks]
    return Blocks(
        free=sum(b.fixed_at is None for b in blocks),
        # in steps that places are told in, so that what stands side by side needs no rounding
        width=in_steps("width"),
        clear_left=in_steps("clear_left"),
        clear_right=in_steps("clear_right"),
        up=column("up"),
        down=column("down"),
        env_up=column("env_up"),
        env_down=column("env_down"),
        front=column("front"),
        on_rail=np.array(rail, dtype=np.int64),
        groups=np.array([_groups(job, b) for b in blocks], dtype=np.int64),
        pull=np.array([_pull(job, b, field) for b in blocks], dtype=np.float64),
        draw=np.array(
            [_to(job, b, field, CableEntry.LEFT, CableEntry.RIGHT) for b in blocks],
            dtype=np.float64,
        ),
        x=np.array([at[0] for at in fixed], dtype=np.float64),
        ref=np.array([at[1] for at in fixed], dtype=np.float64),
    )


@dataclass(frozen=True, slots=True)
class _Tap:
    """Where a wire leaves a block."""

    block: int
    dx: Mm
    dy: Mm
    side: int


def _taps(job: Job, blocks: tuple[Block, ...]) -> dict[tuple[str, str], _Tap]:
    """Return every terminal on the plate with its place in its block and its duct's side."""
    found: dict[tuple[str, str], _Tap] = {}
    for number, block in enumerate(blocks):
        for m in block.members:
            p = job.part_of(m.tag)
            for side, names in (("top", p.terminals_top), ("bottom", p.terminals_bottom)):
                up = (side == "top" and not m.held_above) or m.holds_below
                y = m.dy + (p.height if side == "top" else 0.0)
                for k, name in enumerate(names):
                    x = m.dx + (k + 0.5) / len(names) * p.width
                    found[m.tag, name] = _Tap(number, x, y, 0 if up else 1)
            for edge, names in ((0.0, p.terminals_left), (p.width, p.terminals_right)):
                for k, name in enumerate(names):
                    y = m.dy + (1 - (k + 0.5) / len(names)) * p.height
                    up = y - m.dy >= p.height / 2
                    found[m.tag, name] = _Tap(number, m.dx + edge, y, 0 if up else 1)
    return found


def wiring_arrays(job: Job, blocks: tuple[Block, ...], hinge: tuple[Mm, Mm]) -> Wiring:
    """Return the wires as arrays.

    ``hinge``: x of the duct axis that door wires leave from, and x of the hinge itself.
    """
    taps = _taps(job, blocks)
    rows: list[tuple[_Tap, _Tap, Mm]] = []
    for wire in sorted(job.wires, key=lambda w: tag_order(w.number)):
        a = taps.get((wire.start.device, wire.start.terminal))
        b = taps.get((wire.end.device, wire.end.terminal))
        if a is None:
            a, b, door = b, a, wire.start.device
        else:
            door = wire.end.device
        if a is None:
            continue  # door to door: no arrangement changes it
        if b is None and job.is_open_on_door(door):
            continue  # how far it runs is not known
        if b is not None:
            rows.append((a, b, 0.0))
            continue
        device, part = job.devices[door], job.part_of(door)
        x = (device.door_x or 0.0) + part.width / 2
        y = (device.door_y or 0.0) + part.height / 2
        rows.append((a, _Tap(-1, 0.0, y, 0), abs(hinge[0] - hinge[1]) + abs(hinge[1] - x)))
    mates: list[list[int]] = [[] for _ in blocks]
    at_block: list[list[int]] = [[] for _ in blocks]
    for number, (a, b, _) in enumerate(rows):
        at_block[a.block].append(number)
        if b.block not in (-1, a.block):
            at_block[b.block].append(number)
        if b.block >= 0 and a.block != b.block:
            mates[a.block].append(b.block)
            mates[b.block].append(a.block)
    first = np.cumsum([0, *(len(m) for m in mates)], dtype=np.int64)

    def ints(values: list[int]) -> np.ndarray:
        return np.array(values, dtype=np.int64)

    return Wiring(
        ends=np.array(
            [(a.block, b.block, a.side, b.side) for a, b, _ in rows], dtype=np.int64
        ).reshape(-1, 4),
        spans=np.array(
            [(a.dx, b.dx, a.dy, b.dy, extra) for a, b, extra in rows], dtype=np.float64
        ).reshape(-1, 5),
        first=first,
        partner=ints([mate for group in mates for mate in group]),
        wire_first=np.cumsum([0, *(len(m) for m in at_block)], dtype=np.int64),
        wire_of=ints([w for group in at_block for w in group]),
    )
