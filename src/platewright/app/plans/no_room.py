"""Proofs that a job can't stand on its plate, whatever the search would try.

They hold for plates built in rows between ducts across, devices upright, with the clear and
wiring space that devices ask for. Fixing holes are left out, so that the true room is less.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np

from platewright.arrange.arranger import Arrangement
from platewright.arrange.blocks import Block
from platewright.arrange.task import Task
from platewright.foundation.tag_order import listed
from platewright.foundation.units import Mm
from platewright.model.geometry import TOUCH, Box
from platewright.model.job import DuctPattern, Job, JobSettings
from platewright.model.layout import Placement
from platewright.model.panel import envelope_box
from platewright.model.part import Part

_MOST: Final = 3  # further devices told with their rows


class Reason(StrEnum):
    """What a proof rests on."""

    DEPTH = "a device is too deep"
    WIDTH = "a device is too wide"
    HEIGHT = "a device is too tall"
    ZONES = "what hangs in the door and what is kept free leave no place for a device"
    ROWS = "total width in rows of full height"


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """Why a job can't fit. ``lacking``: mm of height, or of depth or width, that are missing."""

    reason: Reason
    message: str
    lacking: Mm
    # the device, where a single one is the cause; of some that stand as one the first
    tag: str = ""
    device: str = ""  # the largest of these
    part: str = ""  # its part
    where: str = ""  # the row and the cell of that part's data, where they were read
    room: str = ""  # what the room that there is comes from


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """The most that a plate can offer to rows."""

    width: Mm  # between the upright ducts
    height: Mm  # between the margins
    usable: float  # share of the width, what is kept for later left out
    duct: Mm  # narrowest duct in stock
    door: Mm  # plate to door, the gap kept there left out
    uprights: int  # ducts that stand upright


def offer_of(settings: JobSettings) -> Offer:
    """Return what a plate offers with the narrowest ducts of the stock."""
    plate, limits = settings.plate, settings.limits
    duct = min(d.width for d in settings.stock.ducts)
    sides = {DuctPattern.BOTH_SIDES: 2, DuctPattern.NONE: 0}.get(settings.pattern, 1)
    return Offer(
        width=plate.width - 2 * plate.edge_margin - sides * duct,
        height=plate.height - 2 * plate.edge_margin,
        usable=1.0 - settings.row_spare,
        duct=duct,
        door=settings.enclosure.door_inside - limits.door_gap,
        uprights=sides,
    )


def proofs_of(task: Task) -> tuple[Proof, ...]:
    """Return every proof found that the task's free devices can't fit; empty: none was found.

    Ducts that stand already make the rows, so that only single devices are looked at then.
    """
    offer = offer_of(task.job.settings)
    single = tuple(_single(task, offer))
    if single or task.standing.has_rows:
        return single
    return tuple(_in_rows(task, offer))


def told(proofs: Sequence[Proof]) -> str:
    """Return proofs in words: of each reason the worst in full, the others counted."""
    words = []
    for alike in _by_reason(proofs):
        more = f" (and {len(alike) - 1} more devices)" if len(alike) > 1 else ""
        words.append(alike[0].message + more)
    return "; ".join(words)


def told_with_rows(proofs: Sequence[Proof]) -> str:
    """Return the same with the rows that the sizes stand in, and where the room comes from."""
    return "; ".join(_in_full(alike) for alike in _by_reason(proofs))


def _by_reason(proofs: Sequence[Proof]) -> Iterator[list[Proof]]:
    for reason in Reason:
        alike = sorted((p for p in proofs if p.reason is reason), key=lambda p: -p.lacking)
        if alike:
            yield alike


def _in_full(alike: Sequence[Proof]) -> str:
    worst = alike[0]
    same = [p.device for p in alike[1:] if p.part == worst.part]
    others = [p for p in alike[1:] if p.part != worst.part]
    words = f"{worst.where}: {worst.message}" if worst.where else worst.message
    words += f": {worst.room}" if worst.room else ""
    if same:
        words += f"; {listed(same)} {'is' if len(same) == 1 else 'are'} of the same part"
    if others:
        rows = listed([f"{p.device} ({p.where or p.part})" for p in others], _MOST)
        words += f"; likewise {rows}"
    return words


def _single(task: Task, offer: Offer) -> Iterator[Proof]:
    """Yield why single blocks fit nowhere; no place is told only where the room is large enough."""
    for b in range(task.arrays.free):
        too_large = tuple(_too_large(task, b, offer))
        yield from too_large or _no_place(task, b, offer)


def _too_large(task: Task, b: int, offer: Offer) -> Iterator[Proof]:
    arrays, job = task.arrays, task.job
    block, plate, limits = task.blocks[b], job.settings.plate, job.settings.limits
    width, front = float(arrays.width[b]), float(arrays.front[b])
    height = float(arrays.up[b] + arrays.down[b])
    margins = f"less margins of 2 × {plate.edge_margin:g} mm"
    ducts = f" and {offer.uprights} × {offer.duct:g} mm of upright duct" if offer.uprights else ""
    gap = f" less {limits.door_gap:g} mm (limits.door_gap_mm)" if limits.door_gap else ""
    room = offer.height - 2 * offer.duct
    if front > offer.door + TOUCH:
        yield _of_block(
            task, block, Reason.DEPTH, "depth", front - offer.door,
            message=f"stands {front:g} mm out of the plate{_covers(job, block, 'depth')}; the door "
            f"leaves {offer.door:g} mm",
            room=f"{job.settings.enclosure.door_inside:g} mm (enclosure.door_inside_mm){gap}",
        )  # fmt: skip
    if width > offer.width + TOUCH:
        yield _of_block(
            task, block, Reason.WIDTH, "width", width - offer.width,
            message=f"is {width:g} mm wide{_covers(job, block, 'width')}; a row offers "
            + (f"{offer.width:g} mm" if offer.width > 0 else "nothing"),
            room=f"the plate's {plate.width:g} mm (plate.width_mm) {margins}{ducts}",
        )  # fmt: skip
    if height > room + TOUCH:
        yield _of_block(
            task, block, Reason.HEIGHT, "height", height - room,
            message=f"needs {height:g} mm of height with its wiring; the plate offers {room:g} mm "
            "between two ducts",
            room=f"its {plate.height:g} mm (plate.height_mm) {margins} and 2 × {offer.duct:g} mm "
            "of duct",
        )  # fmt: skip


def _of_block(
    task: Task, block: Block, reason: Reason, field: str, lacking: Mm, *, message: str, room: str
) -> Proof:
    """Return the proof of a block, told by its largest device: of this one the row is named."""
    job = task.job
    tags = [member.tag for member in block.members]
    largest = max(tags, key=lambda tag: _size_of(job.part_of(tag), field))
    part = job.devices[largest].part
    where = _row_of(job, part, field)
    others = [tag for tag in tags if tag != largest]
    who = largest
    if others and reason is not Reason.DEPTH:  # depths do not add up
        who += f" with {listed(others)}, as one,"
    if not where:
        who += f" ({part})"
    return Proof(
        reason=reason, message=f"{who} {message}", lacking=lacking, tag=block.head,
        device=largest, part=part, where=where, room=room,
    )  # fmt: skip


def _size_of(part: Part, field: str) -> Mm:
    size: Mm = getattr(part, field)
    return size + ((part.cover_front or 0.0) if field == "depth" else 0.0)


def _row_of(job: Job, part: str, field: str) -> str:
    """Return where a part's size was read; blank: not known."""
    row = job.part_rows.get(part)
    return "" if row is None else f"{row.told(field)} ({part})"


def _covers(job: Job, block: Block, field: str) -> str:
    """Say that covers are counted, where there are any."""
    parts = [job.part_of(member.tag) for member in block.members]
    if field == "depth":
        has = bool(max(parts, key=lambda part: _size_of(part, field)).cover_front)
    else:
        has = any(part.cover_left or part.cover_right for part in parts)
    return " with its covers" if has else ""


def _no_place(task: Task, b: int, offer: Offer) -> Iterator[Proof]:
    for member in task.blocks[b].members:
        part = task.job.part_of(member.tag)
        depth = part.depth + (part.cover_front or 0.0)
        if depth <= offer.door + TOUCH and not _has_place(task, part, depth):
            yield Proof(
                reason=Reason.ZONES,
                message=f"{member.tag}, {depth:g} mm deep, finds no place clear of what hangs "
                "in the door and of what is kept free",
                lacking=0.0,
                tag=member.tag,
                device=member.tag,
                part=part.part,
                where=_row_of(task.job, part.part, "depth"),
            )


def _has_place(task: Task, part: Part, depth: Mm) -> bool:
    """Tell whether a device's envelope fits anywhere beside the zones it may not stand in.

    If it fits anywhere, it fits pushed left and down against edges of the zones or the plate.
    """
    plate = task.job.settings.plate
    around = envelope_box(part, Placement(x=0.0, y=0.0))
    width, height = around.width, around.height
    edge = plate.edge_margin
    room = Box(edge, edge, plate.width - edge, plate.height - edge)
    closed = [z.box for z in task.room.zones[1:] if z.tallest < depth - TOUCH]
    lefts = [room.left, *(z.right for z in closed)]
    lows = [room.bottom, *(z.top for z in closed)]
    for x in lefts:
        for y in lows:
            box = Box(x, y, x + width, y + height)
            is_inside = (
                x >= room.left - TOUCH
                and y >= room.bottom - TOUCH
                and box.right <= room.right + TOUCH
                and box.top <= room.top + TOUCH
            )
            if is_inside and not any(box.overlaps(z) for z in closed):
                return True
    return False


def least_rows(task: Task, offer: Offer) -> int:
    """Return a number of rows below which the widths can't fit.

    Two voltage groups in one row cost the gap between them: with fewer rows than groups some
    rows hold two.
    """
    total = float(np.sum(task.arrays.width[: task.arrays.free]))
    rows = max(1, math.ceil(total / (offer.width * offer.usable) - TOUCH))
    groups = len(
        {int(g) for g in task.arrays.groups[: task.arrays.free] if int(g).bit_count() == 1}
    )
    gap = task.job.settings.limits.group_gap
    while total + max(0, groups - rows) * gap > rows * offer.width + TOUCH:
        rows += 1
    return rows


def least_height(task: Task, offer: Offer, rows: int) -> Mm:
    """Return a height below which the rows and their ducts can't lie.

    With the devices sorted by height, the tallest first, no k rows can hold all that reach
    beyond k row widths: the next row is at least as high as the first of these.
    """
    arrays = task.arrays
    heights = (arrays.up + arrays.down)[: arrays.free]
    order = np.argsort(-heights, kind="stable")
    ends = np.cumsum(arrays.width[: arrays.free][order])
    height = (rows + 1) * offer.duct
    for k in range(rows):
        beyond = np.flatnonzero(ends > k * offer.width * offer.usable + TOUCH)
        if len(beyond):
            height += float(heights[order[beyond[0]]])
    return height


def _in_rows(task: Task, offer: Offer) -> Iterator[Proof]:
    if task.arrays.free == 0 or offer.width * offer.usable <= 0:
        return
    rows = least_rows(task, offer)
    height = least_height(task, offer, rows)
    if height > offer.height + TOUCH:
        total = float(np.sum(task.arrays.width[: task.arrays.free]))
        spare = f" ({1 - offer.usable:.0%} of it kept for later)" if offer.usable < 1 else ""
        yield Proof(
            reason=Reason.ROWS,
            message=f"the devices are {total:.0f} mm wide in all, a row offers "
            f"{offer.width:.0f} mm{spare}: at least {rows} rows, which with their ducts need at "
            f"least {height:.0f} mm of height; the plate offers {offer.height:.0f} mm",
            lacking=height - offer.height,
        )


def problem_of(arrangement: Arrangement) -> str:
    """Say why the best arrangement found is no plate: proved, or only not found."""
    proofs = proofs_of(arrangement.task)
    if proofs:
        # row and cell come first, as in every fault of a list, where a single part is the cause
        words = told_with_rows(proofs)
        if any(proof.where for proof in proofs):
            return f"{words}. So this plate can't hold the job, proved for devices in rows between ducts"
        return f"this plate can't hold the job, proved for devices in rows between ducts: {words}"
    count, missing = len(arrangement.task.job.on_plate), arrangement.found.violation
    return (
        f"no plate was found for {count} devices in {arrangement.sizes.rows} rows: the best one "
        f"found lacks {missing:.0f} mm of room. This is where the search ended, "
        "not a proof that nothing fits"
    )
