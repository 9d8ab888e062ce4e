"""What a new plan must leave where it is, and what it had better leave.

Locked things and what drilled holes hold must stay. Once holes are drilled, everything else that
stands had better stay too: a moved device is work, a new hole is more. So the options are tried
from the one that moves least (``least_moves``).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations

from platewright.app.plans.least_moves import least_moves
from platewright.arrange.task import Standing
from platewright.foundation.units import Mm
from platewright.model.job import Job
from platewright.model.layout import Hole, HoleState, Layout, Placement
from platewright.model.panel import envelope_box, hole_offsets

_MATCH: Mm = 0.5  # a drilled hole this near to where the part wants one serves it


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
    """Tell whether a device's drilled holes are where its part, as listed now, wants them."""
    part = job.part_of(tag)
    wanted = [(at.x + p.x, at.y + p.y) for p in hole_offsets(part)]
    reach = _MATCH + (part.slot_length or 0.0) / 2
    return bool(wanted) and all(
        any(abs(h.x - x) <= reach and abs(h.y - y) <= reach for x, y in wanted) for h in holes
    )


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
    rails = {t: r for t, r in layout.rails.items() if r.locked or t in drilled}
    held = rails or any(d.locked or t in drilled for t, d in layout.ducts.items())
    return Standing(devices=devices, ducts=layout.ducts if held else {}, rails=rails)


def _clashing(job: Job, devices: Mapping[str, Placement]) -> set[str]:
    """Return devices whose envelopes overlap: their parts or neighbours have changed."""
    boxes = {tag: envelope_box(job.part_of(tag), at) for tag, at in devices.items()}
    linked = {
        frozenset((d.tag, other))
        for d in job.on_plate
        for other in (d.plugs_into, d.hangs_under)
        if other
    }
    return {
        tag
        for a, b in combinations(sorted(boxes), 2)
        if boxes[a].overlaps(boxes[b]) and frozenset((a, b)) not in linked
        for tag in (a, b)
    }


def options(job: Job, layout: Layout) -> Iterator[Standing]:
    """Yield what may be left standing, the option that moves least first."""
    must = must_stand(job, layout)
    if is_drilled(layout) and must.ducts:
        plate = {d.tag for d in job.on_plate}
        drilled = _drilled_for(layout)
        placed = {
            tag: at
            for tag, at in layout.devices.items()
            if tag in plate and (tag in must.devices or tag not in drilled)
        }
        free = _clashing(job, placed) | _changed(job, placed)
        kept = {tag: at for tag, at in placed.items() if tag not in free or tag in must.devices}
        if kept != must.devices:
            least = least_moves(job, layout, must, kept)
            if least is not None and least.devices != must.devices:
                yield least
    yield must


def _changed(job: Job, devices: Mapping[str, Placement]) -> set[str]:
    """Return devices whose part is another than when they were put there."""
    return {tag for tag, at in devices.items() if at.part not in ("", job.devices[tag].part)}
