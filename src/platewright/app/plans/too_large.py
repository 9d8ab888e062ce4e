"""What cures a job in which a single device fits nowhere on the plate: reckoned, not planned.

Every line cures alone. No plate is proposed that its enclosure can't take: where a larger plate
would not go in, the enclosure is named with it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from platewright.app.plans.no_room import Proof, Reason, offer_of
from platewright.arrange.task import Task
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import TOUCH
from platewright.model.job import DuctPattern, Job, JobSettings

DOOR_MASS: Final = 2.0  # kg, the most that is proposed for a door (shop practice)
FEW: Final = 3  # from more devices on, the enclosure is what is too small
DOOR_DEPTH: Final[Mm] = 120.0  # the deepest (shop practice)


def is_light(job: Job, tag: str) -> bool:
    """Tell whether a device is light and flat enough that a door may bear it (shop practice)."""
    part = job.part_of(tag)
    return (part.mass or 0.0) <= DOOR_MASS and part.depth <= DOOR_DEPTH


def in_larger(size: Mm, enclosure: Mm, plate: Mm) -> str:
    """Say that a larger plate needs a larger enclosure, the room round the plate kept."""
    if size <= enclosure:
        return ""
    return f", in an enclosure of {enclosure + size - plate:g} mm instead of {enclosure:g} mm"


def for_single(task: Task, proofs: tuple[Proof, ...], *, is_drilled: bool) -> Iterator[str]:
    """Yield what cures single devices that fit nowhere: a row of their own, by the narrowest ducts.

    ``is_drilled``: a larger plate is drilled anew, from the start, and told so, last.
    """
    settings = task.job.settings
    reasons = {proof.reason for proof in proofs}
    if reasons == {Reason.WIDTH}:
        yield from _fewer_uprights(task, proofs)
    larger = [*_deeper(settings, proofs), *_larger(task, proofs)]
    if Reason.ZONES in reasons:
        larger.append(
            "hang the door devices elsewhere, or take a deeper enclosure or flatter parts"
        )
    anew = " (a new plate: it is drilled from the start)" if is_drilled else ""
    whole = "; and ".join(larger) + anew
    if not is_drilled:
        yield whole
    few = len({proof.tag for proof in proofs}) <= FEW
    if few and reasons & {Reason.WIDTH, Reason.HEIGHT, Reason.DEPTH}:
        yield _elsewhere(task.job, proofs)
    if is_drilled:
        yield whole
    if few:
        yield from _slips(task.job, proofs)


def _slips(job: Job, proofs: tuple[Proof, ...]) -> Iterator[str]:
    """Yield the cells to correct, where the size of few parts is what lacks room."""
    fields = {Reason.WIDTH: "width", Reason.HEIGHT: "height", Reason.DEPTH: "depth"}
    told: set[tuple[str, str]] = set()
    for proof in proofs:
        row, field = job.part_rows.get(proof.part), fields.get(proof.reason, "")
        if row is not None and field in row.cells and (proof.part, field) not in told:
            told.add((proof.part, field))
            heading, cell = row.cells[field]
            yield f"if {cell} is a slip, correct {heading} in row {row.row} of {row.file}"


def _deeper(settings: JobSettings, proofs: tuple[Proof, ...]) -> Iterator[str]:
    lacking = max((p.lacking for p in proofs if p.reason is Reason.DEPTH), default=0.0)
    if lacking > 0:
        deep = settings.enclosure.door_inside + lacking
        yield f"an enclosure with at least {deep:g} mm from the plate to the door, or flatter parts"


def _larger(task: Task, proofs: tuple[Proof, ...]) -> Iterator[str]:
    plate, box = task.job.settings.plate, task.job.settings.enclosure
    room, offer = task.room.box, offer_of(task.job.settings)
    ducts = plate.width - 2 * plate.edge_margin - offer.width  # the upright ones together
    sizes = (
        (Reason.WIDTH, plate.width, box.width, room.width - ducts, "wide"),
        (Reason.HEIGHT, plate.height, box.height, room.height - 2 * offer.duct, "high"),
    )
    for reason, size, most, there, word in sizes:
        need = _needed(task, proofs, reason)
        if need > 0:
            wanted = math.ceil(size + need - there - TOUCH)
            yield f"a plate at least {wanted} mm {word}" + in_larger(wanted, most, size)


def _needed(task: Task, proofs: tuple[Proof, ...], reason: Reason) -> Mm:
    """Return the room a row needs between its ducts for the largest of the devices alone."""
    arrays, settings = task.arrays, task.job.settings
    tags = {proof.tag for proof in proofs if proof.reason is reason}
    found = [0.0]
    for b in range(arrays.free):
        if task.blocks[b].head not in tags:
            continue
        if reason is Reason.HEIGHT:
            found.append(math.ceil(arrays.up[b]) + math.ceil(arrays.down[b]))
            continue
        side = settings.limits.side_gap
        left = max(side, float(arrays.clear_left[b])) + float(arrays.width[b])
        whole = left + max(side, float(arrays.clear_right[b]))
        found.append(max(whole, left / max(1.0 - settings.row_spare, TOUCH)))
    return max(found)


def _fewer_uprights(task: Task, proofs: tuple[Proof, ...]) -> Iterator[str]:
    """Yield the pattern of upright ducts by which the widest device fits between or beside them."""
    settings = task.job.settings
    if task.standing.ducts or settings.pattern is DuctPattern.NONE:
        return
    one = DuctPattern.LEFT if settings.pattern is DuctPattern.BOTH_SIDES else DuctPattern.NONE
    less = settings.plate.width - 2 * settings.plate.edge_margin - task.room.box.width
    for pattern in dict.fromkeys((one, DuctPattern.NONE)):
        offer = offer_of(replace(settings, pattern=pattern)).width - less
        if offer + TOUCH >= math.ceil(_needed(task, proofs, Reason.WIDTH)):
            yield (
                f'fewer upright ducts: set pattern = "{pattern}" in job.toml, then a row offers '
                f"{offer:g} mm"
            )
            return


def _elsewhere(job: Job, proofs: tuple[Proof, ...]) -> str:
    """Return that the devices go elsewhere: into the door only where they may hang and fit there."""
    box = job.settings.enclosure
    large = [p for p in proofs if p.reason is not Reason.ZONES]
    tags = sorted({p.device for p in large}, key=tag_order)
    parts = [job.part_of(tag) for tag in tags]
    fit = all(part.width <= box.width and part.height <= box.height for part in parts)
    fit = fit and all(proof.reason is not Reason.DEPTH for proof in large)
    may_hang = fit and all(is_light(job, tag) for tag in tags)
    door = (
        "in the door, if it may hang there (place = door in devices.csv), or " if may_hang else ""
    )
    names = ", ".join(f"{tag} ({job.devices[tag].part})" for tag in tags)
    return f"{names} {door}outside this enclosure, or a smaller part in its place"
