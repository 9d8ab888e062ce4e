"""A rail of a plate in work keeps its ends where a new plan could leave them: it may be cut already.

A rail whose holes are drilled stays anyway (``stays``). One that still waits for its holes is laid
anew by each plan, and would come out a little longer or shorter for no more than a rounding.
"""

from __future__ import annotations

from dataclasses import replace

from platewright.app.plans.former_names import SAME
from platewright.fabricate.access import USUAL_RAIL
from platewright.foundation.units import Mm
from platewright.model.geometry import TOUCH, Box
from platewright.model.job import Job
from platewright.model.layout import Layout, Placement, Rail, Run
from platewright.model.panel import body_box, envelope_box
from platewright.model.part import Mount
from platewright.tables.fixings import fixing_limits
from platewright.tables.rails import rail_profile

_ON_IT: Mm = 0.5


def as_they_were(job: Job, before: Layout, layout: Layout) -> Layout:
    """Return a planned layout whose rails are cut as in ``before`` wherever that still does.

    It does where the former piece carries all that the new one would, and lies within it, or
    nothing level with it was moved or changed: then there is room for it as there was. One that
    was cut with no play is laid anew where that gives it some.
    """
    rails = dict(layout.rails)
    for tag, rail in layout.rails.items():
        if rail in before.rails.values() or rail.run is not Run.ACROSS:
            continue
        others = [one for name, one in rails.items() if name != tag]
        former = (
            one
            for one in before.rails.values()
            if _is_on_line(one, rail)
            and one not in others
            and not any(_is_on_line(one, other) and _overlap(one, other) for other in others)
            and _carried(job, layout, rail) <= _carried(job, layout, one)
            and (_lies_within(one, rail) or _is_as_it_was(job, before, layout, rail))
            and _tight_ends(job, layout, one) <= _tight_ends(job, layout, rail)
        )
        rails[tag] = next(former, rail)
    return replace(layout, rails=rails)


def _is_on_line(one: Rail, other: Rail) -> bool:
    same = one.run is other.run and one.profile == other.profile
    return same and abs(one.y - other.y) <= SAME


def _overlap(one: Rail, other: Rail) -> bool:
    return one.x < other.x + other.length and other.x < one.x + one.length


def _lies_within(one: Rail, other: Rail) -> bool:
    return one.x >= other.x and one.x + one.length <= other.x + other.length


def _carried(job: Job, layout: Layout, rail: Rail) -> frozenset[str]:
    """Return the devices that hang on a rail over their whole width."""
    found = set()
    for tag, at in layout.devices.items():
        part = job.part_of(tag)
        is_on = (
            part.mount is Mount.RAIL and abs(at.y + (part.rail_center or 0.0) - rail.y) <= _ON_IT
        )
        ends = rail.x - _ON_IT, rail.x + rail.length + _ON_IT
        if is_on and ends[0] <= at.x and at.x + part.width <= ends[1]:
            found.add(tag)
    return frozenset(found)


def _is_as_it_was(job: Job, before: Layout, layout: Layout, rail: Rail) -> bool:
    """Tell whether all that stands level with a rail stood there before, as it does now."""
    band = _band(rail)
    ducts = {duct.box for duct in before.ducts.values()}
    return all(
        duct.box in ducts for duct in layout.ducts.values() if _is_level(duct.box, band)
    ) and all(
        _stood(job, before, tag, at)
        for tag, at in layout.devices.items()
        if _is_level(envelope_box(job.part_of(tag), at), band)
    )


def _tight_ends(job: Job, layout: Layout, rail: Rail) -> int:
    """Return at how many of its ends a rail across has no play beside a body that is not on it."""
    band, play = _band(rail), fixing_limits("rail").play or 0.0
    bodies = [
        body_box(part, at)
        for tag, at in layout.devices.items()
        if (part := job.part_of(tag)).mount is not Mount.RAIL
        or abs(at.y + (part.rail_center or 0.0) - rail.y) > _ON_IT
    ]
    level = [box for box in bodies if _is_level(box, band)]
    left, right = rail.x, rail.x + rail.length
    return any(-TOUCH < left - box.right < play - TOUCH for box in level) + any(
        -TOUCH < box.left - right < play - TOUCH for box in level
    )


def _band(rail: Rail) -> tuple[Mm, Mm]:
    """Return between which heights a rail across lies."""
    profile = rail_profile(rail.profile)
    half = (profile.width if profile else USUAL_RAIL[0]) / 2
    return rail.y - half, rail.y + half


def _is_level(box: Box, band: tuple[Mm, Mm]) -> bool:
    return box.bottom < band[1] and box.top > band[0]


def _stood(job: Job, before: Layout, tag: str, at: Placement) -> bool:
    was = before.devices.get(tag)
    if was is None or was.part not in ("", job.devices[tag].part):
        return False
    return (was.x, was.y) == (at.x, at.y)
