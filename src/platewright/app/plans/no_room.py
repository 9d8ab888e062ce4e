"""Proofs that a job can't stand on its plate, whatever the search would try.

They hold for plates built in rows between ducts across, devices upright, with the clear and
wiring space that devices ask for. Fixing holes are left out, so that the true room is less.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from platewright.arrange.arranger import Arrangement
from platewright.arrange.task import Task
from platewright.foundation.units import Mm
from platewright.model.geometry import TOUCH, Box
from platewright.model.job import DuctPattern, JobSettings
from platewright.model.layout import Placement
from platewright.model.panel import envelope_box
from platewright.model.part import Part


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
    tag: str = ""  # the device, where a single one is the cause


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """The most that a plate can offer to rows."""

    width: Mm  # between the upright ducts
    height: Mm  # between the margins
    usable: float  # share of the width, what is kept for later left out
    duct: Mm  # narrowest duct in stock
    door: Mm  # plate to door, the gap kept there left out


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
    for reason in Reason:
        alike = sorted((p for p in proofs if p.reason is reason), key=lambda p: -p.lacking)
        if alike:
            more = f" (and {len(alike) - 1} more devices)" if len(alike) > 1 else ""
            words.append(alike[0].message + more)
    return "; ".join(words)


def _single(task: Task, offer: Offer) -> Iterator[Proof]:
    """Yield why single blocks fit nowhere; no place is told only where the room is large enough."""
    for b in range(task.arrays.free):
        too_large = tuple(_too_large(task, b, offer))
        yield from too_large or _no_place(task, b, offer)


def _too_large(task: Task, b: int, offer: Offer) -> Iterator[Proof]:
    arrays = task.arrays
    tag, width = task.blocks[b].head, float(arrays.width[b])
    front, height = float(arrays.front[b]), float(arrays.up[b] + arrays.down[b])
    if front > offer.door + TOUCH:
        yield Proof(
            reason=Reason.DEPTH,
            message=f"{tag} stands {front:g} mm out of the plate; the door leaves "
            f"{offer.door:g} mm",
            lacking=front - offer.door,
            tag=tag,
        )
    if width > offer.width + TOUCH:
        yield Proof(
            reason=Reason.WIDTH,
            message=f"{tag} is {width:g} mm wide; a row offers {offer.width:g} mm",
            lacking=width - offer.width,
            tag=tag,
        )
    room = offer.height - 2 * offer.duct
    if height > room + TOUCH:
        yield Proof(
            reason=Reason.HEIGHT,
            message=f"{tag} needs {height:g} mm of height with its wiring; the plate offers "
            f"{room:g} mm between two ducts",
            lacking=height - room,
            tag=tag,
        )


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
        return (
            "this plate can't hold the job, proved for devices in rows between ducts: "
            f"{told(proofs)}"
        )
    count, missing = len(arrangement.task.job.on_plate), arrangement.found.violation
    return (
        f"no plate was found for {count} devices in {arrangement.sizes.rows} rows: the best one "
        f"found lacks {missing:.0f} mm of room. This is where the search ended, "
        "not a proof that nothing fits"
    )
