"""What a new plan must leave where it is, and what it had better leave.

Locked things and what drilled holes hold must stay. Once holes are drilled, everything else that
stands had better stay too: a moved device is work, a new hole is more. So the options are tried
from the one that moves least (``least_moves``).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from itertools import combinations, product
from math import hypot
from typing import Final

from platewright.app.plans.least_moves import least_of_all, tries_for
from platewright.app.plans.open_rows import edges, kept_open
from platewright.app.plans.seats import faults_about, seated
from platewright.arrange.task import Standing
from platewright.fabricate.slots import FOOT_OFF, OWN_OFF
from platewright.model.job import Job
from platewright.model.layout import Hole, HoleState, Layout, Placement
from platewright.model.panel import envelope_box, hole_offsets

_SHARES: Final = (0.0, 0.25, 0.5, 0.75, 1.0)


def is_drilled(layout: Layout) -> bool:
    """Tell whether any hole of the layout is drilled."""
    return any(hole.state is HoleState.DRILLED for hole in layout.holes.values())


def _drilled_for(layout: Layout) -> Mapping[str, list[Hole]]:
    """Return the drilled holes by what they hold."""
    found: dict[str, list[Hole]] = {}
    for hole in layout.holes.values():
        if hole.state is HoleState.DRILLED and hole.holds:
            found.setdefault(hole.holds, []).append(hole)
    return found


def _fits_its_holes(job: Job, tag: str, at: Placement, holes: list[Hole]) -> bool:
    """Tell whether a device's drilled holes are where its part, as listed now, wants them.

    One that was measured somewhat off holds the part that it was drilled for all the same: a new
    hole can't be drilled that near to it.
    """
    part = job.part_of(tag)
    wanted = [(at.x + p.x, at.y + p.y) for p in hole_offsets(part)]
    is_same = at.part in ("", part.part)
    reach = (OWN_OFF if is_same else FOOT_OFF) + (part.slot_length or 0.0) / 2
    return bool(wanted) and all(
        any(abs(h.x - x) <= reach and abs(h.y - y) <= reach for x, y in wanted) for h in holes
    )


def _over_its_holes(job: Job, tag: str, at: Placement, holes: list[Hole]) -> Iterator[Placement]:
    """Yield places, the nearest first, at which every drilled hole lies near enough to a foot.

    Part of the way, and all of it, to the middle of what the holes are off; none where they are
    near enough already, or no such move would do.
    """
    feet = hole_offsets(job.part_of(tag))
    off = [
        min(((h.x - at.x - p.x, h.y - at.y - p.y) for p in feet), key=lambda by: hypot(*by))
        for h in holes
    ]
    if max(hypot(*by) for by in off) <= FOOT_OFF:
        return
    dx, dy = ((min(by) + max(by)) / 2 for by in zip(*off, strict=True))
    ways = [(dx * a, dy * b) for a, b in product(_SHARES, repeat=2)]
    for x, y in sorted(ways, key=lambda way: hypot(*way)):
        if max(hypot(one - x, other - y) for one, other in off) <= FOOT_OFF:
            yield replace(at, x=round(at.x + x, 3), y=round(at.y + y, 3))


def must_stand(job: Job, layout: Layout) -> Standing:
    """Return what has to stay: locked things, and what drilled holes hold.

    A device whose part was changed so that its drilled holes no longer fit is free. Once a duct
    or a rail stays, all ducts stay: together they make the rows.
    """
    drilled = _drilled_for(layout)
    plate = {d.tag for d in job.on_plate}
    devices = {
        tag: at
        for tag, at in layout.devices.items()
        if tag in plate
        and (at.locked or (tag in drilled and _fits_its_holes(job, tag, at, drilled[tag])))
    }
    for tag, at in devices.items():
        places = [] if at.locked else list(_over_its_holes(job, tag, at, drilled[tag]))
        if not places:
            continue
        stand = {t: p for t, p in layout.devices.items() if t in plate} | devices
        now = faults_about(job, layout, tag, stand)
        fine = (p for p in places if faults_about(job, layout, tag, {**stand, tag: p}) <= now)
        devices = {**devices, tag: next(fine, at)}
    rails = {t: r for t, r in layout.rails.items() if r.locked or t in drilled}
    held = rails or any(d.locked or t in drilled for t, d in layout.ducts.items())
    standing = Standing(devices=devices, ducts=layout.ducts if held else {}, rails=rails)
    return kept_open(job, standing, edges(job))


def _clashing(job: Job, devices: Mapping[str, Placement], held: Collection[str]) -> set[str]:
    """Return devices to let go since envelopes overlap: of each pair one, that clashes most first.

    What is held by drilled holes is not let go.
    """
    boxes = {tag: envelope_box(job.part_of(tag), at) for tag, at in devices.items()}
    linked = {
        frozenset((d.tag, other))
        for d in job.on_plate
        for other in (d.plugs_into, d.hangs_under)
        if other
    }
    pairs = [
        (a, b)
        for a, b in combinations(sorted(boxes), 2)
        if boxes[a].overlaps(boxes[b]) and frozenset((a, b)) not in linked
    ]
    gone: set[str] = set()
    while True:
        left = [tag for pair in pairs if not gone & set(pair) for tag in pair if tag not in held]
        if not left:
            return gone
        gone.add(max(sorted(left), key=left.count))


def options(job: Job, layout: Layout) -> Iterator[Standing]:
    """Yield what may be left standing, the option with fewest new holes and moves first."""
    must = must_stand(job, layout)
    if not must.has_rows:
        yield must
        return
    kept = _had_better_stay(job, layout, must) if is_drilled(layout) else must.devices
    if is_drilled(layout):
        begin = [tries_for(job, layout, must, kept)]
        on_holes = seated(job, layout, must.devices, kept)
        if on_holes != kept:
            begin.insert(0, tries_for(job, layout, must, on_holes))
        least = least_of_all(begin)
        if least is not None and least.devices != must.devices:
            yield least
    yield all_free(job, layout, must)


def _had_better_stay(job: Job, layout: Layout, must: Standing) -> Mapping[str, Placement]:
    """Return what stands, but for what the change itself frees."""
    plate = {d.tag for d in job.on_plate}
    drilled = _drilled_for(layout)
    placed = {
        tag: must.devices.get(tag, at)
        for tag, at in layout.devices.items()
        if tag in plate and (tag in must.devices or tag not in drilled)
    }
    free = _changed(job, placed) - set(must.devices)
    kept = {tag: at for tag, at in placed.items() if tag not in free}
    clashing = _clashing(job, kept, must.devices)
    return {tag: at for tag, at in kept.items() if tag not in clashing}


def all_free(job: Job, layout: Layout, must: Standing) -> Standing:
    """Return what has to stay, with rows opened on bare plate where the rows there are don't do."""
    tries = tries_for(job, layout, must, must.devices)
    return tries.standing(()) or tries.widest(())


def _changed(job: Job, devices: Mapping[str, Placement]) -> set[str]:
    """Return devices whose part is another than when they were put there."""
    return {tag for tag, at in devices.items() if at.part not in ("", job.devices[tag].part)}
