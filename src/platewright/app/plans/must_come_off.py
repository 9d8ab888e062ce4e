"""What must come off a drilled plate before each new hole may be drilled."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from platewright.app.plans.stays import is_drilled
from platewright.fabricate.access import InTheWay, footprint, meets_drill, standing
from platewright.foundation.tag_order import tag_order
from platewright.model.job import DisplayUnit, Job
from platewright.model.layout import Hole, HoleState, Layout
from platewright.model.lengths import said, with_unit


@dataclass(frozen=True, slots=True, kw_only=True)
class NewHole:
    """A hole to drill in a plate that may be fitted out, and what is in the tool's way."""

    tag: str
    hole: Hole
    rails_and_ducts: tuple[InTheWay, ...]
    devices: tuple[str, ...]  # in the way of the tool; all devices come off because of the chips


def new_holes(job: Job, before: Layout, after: Layout) -> tuple[NewHole, ...]:
    """Return the holes a plan adds to a drilled plate, with what stands in their way there now.

    ``before``: as the plate is. A rail or duct that misses a drilled hole cannot be on it yet.
    """
    if not is_drilled(before):
        return ()
    fresh = [
        tag for tag, hole in after.holes.items() if tag not in before.holes and hole.is_to_drill
    ]
    return tuple(
        _new_hole(job, before, tag, after.holes[tag]) for tag in sorted(fresh, key=tag_order)
    )


def _new_hole(job: Job, before: Layout, tag: str, hole: Hole) -> NewHole:
    fixed = [name for name in (*before.rails, *before.ducts) if _can_be_on(before, name)]
    met = tuple(m for name in sorted(fixed, key=tag_order) for m in _met(job, before, hole, name))
    # the device that the hole is for is put on once it is drilled
    stand = [name for name in before.devices if name in job.devices and name != hole.holds]
    barred = [name for name in sorted(stand, key=tag_order) if any(_met(job, before, hole, name))]
    return NewHole(tag=tag, hole=hole, rails_and_ducts=met, devices=tuple(barred))


def _can_be_on(layout: Layout, name: str) -> bool:
    own = [hole for hole in layout.holes.values() if hole.holds == name]
    return bool(own) and all(hole.state is HoleState.DRILLED for hole in own)


def _met(job: Job, layout: Layout, hole: Hole, name: str) -> Iterator[InTheWay]:
    """Yield that a thing lies over a hole, or else what of it the drill and its chuck would meet."""
    thing = standing(job, layout, name)
    if footprint(layout, job, name).contains(hole.centre) and name not in layout.ducts:
        yield InTheWay(tag=name, words=f"{name} lies over it")
        return
    yield from meets_drill(
        hole.centre,
        drill=hole.drill,
        thickness=job.settings.plate.thickness,
        standing=(thing,),
        unit=job.settings.units,
    )


def told(holes: tuple[NewHole, ...], unit: DisplayUnit) -> Iterator[str]:
    """Yield the new holes line by line, and what comes off before each."""
    if not holes:
        return
    yield "before drilling, take every device off the plate: chips get into them"
    for one in holes:
        place = f"{said(one.hole.x, unit)}, {with_unit(one.hole.y, unit)}"
        where = f"{one.tag} for {one.hole.holds or 'nothing'} at {place}"
        off = [f"{met.tag} ({met.words})" for met in one.rails_and_ducts]
        near = f"; in the tool's way: {', '.join(one.devices)}" if one.devices else ""
        first = f"first take off {'; '.join(off)}" if off else "no rail or duct need come off"
        yield f"  {where}: {first}{near}"


def record(one: NewHole) -> dict[str, Any]:
    """Return one new hole as plain values."""
    return {
        "hole": one.tag,
        "holds": one.hole.holds,
        "x_mm": one.hole.x,
        "y_mm": one.hole.y,
        "drill_mm": one.hole.drill,
        "take_off": [{"tag": met.tag, "why": met.words} for met in one.rails_and_ducts],
        "devices_in_the_way": list(one.devices),
    }
