"""What may stand on a plate that is partly drilled, and what of it comes off before more is drilled.

A layout says where things shall stand, not what is mounted. Its drilled holes tell what can be: a
thing none of whose holes is drilled can't be there, nor can what hangs on it. What stood where no
thing of this layout has a hole any more shows by its drilled holes only, which are left over.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import hypot
from typing import Final

from platewright.fabricate.access import Standing, footprint, is_barred
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import Box
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout

OFF: Final[Mm] = 1.0  # a hole drilled by hand is this near to where it was planned
SAME_DRILL: Final[Mm] = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class StoodBefore:
    """Left-over holes in the pattern of a device that now has its place, and its holes, elsewhere.

    ``box``: the device's footprint when it hung on them.
    """

    holes: tuple[str, ...]
    box: Box


def is_partly_drilled(layout: Layout) -> bool:
    """Tell whether some holes are drilled and others are still to be: then things may be on."""
    holes = layout.holes.values()
    has_drilled = any(hole.state is HoleState.DRILLED for hole in holes)
    return has_drilled and any(hole.is_to_drill for hole in holes)


def left_over(layout: Layout) -> tuple[str, ...]:
    """Return the drilled holes that hold nothing of this layout, in reading order."""
    return tuple(
        tag
        for tag in sorted(layout.holes, key=tag_order)
        if layout.holes[tag].state is HoleState.DRILLED and not layout.holes[tag].holds
    )


def idle_marks(layout: Layout) -> tuple[str, ...]:
    """Return the marks on the plate that hold nothing and are wiped off, in reading order."""
    return tuple(t for t in sorted(layout.holes, key=tag_order) if layout.holes[t].is_idle_mark)


def can_stand(job: Job, layout: Layout, rail_of: Mapping[str, str]) -> frozenset[str]:
    """Return what may be on a partly drilled plate at its place; ``rail_of``: device -> rail.

    One drilled hole is enough: a thing holds on fewer screws than it shall have. A device of which
    nobody knows how it is held may be on.
    """
    if not is_partly_drilled(layout):
        return frozenset()
    screwed: dict[str, list[bool]] = {}
    for hole in layout.holes.values():
        screwed.setdefault(hole.holds, []).append(hole.state is HoleState.DRILLED)
    held = {tag for tag, done in screwed.items() if any(done)}
    found = {tag for tag in (*layout.rails, *layout.ducts) if tag in held}
    for tag in layout.devices:
        is_known = tag in screwed or tag in rail_of or _hangs_on(job, tag)
        if tag in held or rail_of.get(tag) in held or not is_known:
            found.add(tag)
    while more := {
        tag
        for tag in layout.devices
        if tag not in found and tag not in screwed and _hangs_on(job, tag) & found
    }:
        found |= more
    return frozenset(found)


def _hangs_on(job: Job, tag: str) -> frozenset[str]:
    device = job.devices[tag]
    return frozenset(one for one in (device.plugs_into, device.hangs_under) if one)


def stood_before(job: Job, layout: Layout) -> dict[str, StoodBefore]:
    """Return which device hung on left-over holes before it was moved, as far as one can tell.

    Told by the pattern of its holes; not where two devices, or two places, would fit.
    """
    loose = left_over(layout)
    found: dict[str, StoodBefore] = {}
    claims: list[str] = []
    for tag in layout.devices:
        own = sorted((name for name, h in layout.holes.items() if h.holds == tag), key=tag_order)
        if any(layout.holes[name].state is HoleState.DRILLED for name in own) or len(own) < 2:
            continue  # one hole alone has no pattern
        places = list(_places(layout, own, loose))
        claims += [name for holes, _ in places for name in holes]
        if len(places) == 1:
            holes, (dx, dy) = places[0]
            foot = footprint(layout, job, tag)
            box = Box(foot.left + dx, foot.bottom + dy, foot.right + dx, foot.top + dy)
            found[tag] = StoodBefore(holes=holes, box=box)
    return {
        tag: one for tag, one in found.items() if all(claims.count(name) == 1 for name in one.holes)
    }


def _places(
    layout: Layout, own: list[str], loose: tuple[str, ...]
) -> Iterator[tuple[tuple[str, ...], tuple[Mm, Mm]]]:
    """Yield left-over holes that lie as a device's own do, and how far they lie from those."""
    first = layout.holes[own[0]]
    for start in loose:
        dx, dy = layout.holes[start].x - first.x, layout.holes[start].y - first.y
        met = [_nearest(layout, name, loose, dx, dy) for name in own]
        holes = [name for name in met if name is not None]
        if len(set(holes)) == len(own):
            yield tuple(sorted(holes, key=tag_order)), (dx, dy)


def _nearest(layout: Layout, name: str, loose: tuple[str, ...], dx: Mm, dy: Mm) -> str | None:
    """Return the left-over hole where one of a device's holes comes to lie, moved by (dx, dy)."""
    own = layout.holes[name]
    near = [
        (away, tag_order(tag), tag)
        for tag in loose
        if abs(layout.holes[tag].drill - own.drill) <= SAME_DRILL
        and (away := hypot(layout.holes[tag].x - own.x - dx, layout.holes[tag].y - own.y - dy))
        <= OFF
    ]
    return min(near)[2] if near else None


def comes_off(
    job: Job, layout: Layout, on: frozenset[str], stands: Mapping[str, Standing]
) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield what of the things that may be on must be off before the rest is drilled, and why.

    Devices all come off. A rail or duct comes off where a hole lies under it or a tool would touch
    it.
    """
    for tag in stands:
        if tag not in on:
            continue
        if tag in layout.devices:
            yield tag, ("nothing is drilled with a device on the plate: chips get into it",)
        elif why := tuple(_barred(job, layout, stands[tag], footprint(layout, job, tag))):
            yield tag, why


def _barred(job: Job, layout: Layout, thing: Standing, foot: Box) -> Iterator[str]:
    """Yield which holes can't be drilled while a rail or duct is on, and what would be touched."""
    plate = job.settings.plate
    for tag in sorted(layout.holes, key=tag_order):
        hole = layout.holes[tag]
        if not hole.is_to_drill:
            continue
        if hole.holds == thing.tag or (foot.contains(hole.centre) and len(thing.boxes) == 1):
            yield f"{tag} lies under it"
            continue
        if is_barred(hole.centre, drill=hole.drill, thickness=plate.thickness, thing=thing):
            yield f"at {tag} the chuck or the drill would touch it"
