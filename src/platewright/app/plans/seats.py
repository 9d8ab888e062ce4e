"""Drilled holes that hold nothing any more are a seat for a device whose feet fall on them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import hypot

from platewright.app.gather import panel_of
from platewright.fabricate.slots import FOOT_OFF
from platewright.fabricate.solvers.place_holes import same_size
from platewright.foundation.tag_order import tag_order
from platewright.model.finding import Verdict
from platewright.model.geometry import Point
from platewright.model.job import Job
from platewright.model.layout import Hole, HoleState, Layout, Placement
from platewright.model.panel import body_box, envelope_box, hole_offsets
from platewright.rules.registry import run_rules

_WRONG = (Verdict.FAIL, Verdict.CAUTION)


def idle_holes(layout: Layout, kept: Mapping[str, Placement]) -> tuple[Hole, ...]:
    """Return the drilled holes that no rail, duct or device that stays needs."""
    owners = {*kept, *layout.rails, *layout.ducts}
    return tuple(
        hole
        for hole in layout.holes.values()
        if hole.state is HoleState.DRILLED and hole.holds not in owners
    )


def seated(
    job: Job, layout: Layout, must: Mapping[str, Placement], kept: Mapping[str, Placement]
) -> dict[str, Placement]:
    """Return what stands with devices without a place put on idle holes; others there make way.

    ``kept``: what stands. ``must``: what of it has to. Only where the checks of space then find
    nothing about the device that is put there.
    """
    stand = dict(kept)
    for device in sorted(job.on_plate, key=lambda d: tag_order(d.tag)):
        tag = device.tag
        if tag in stand or device.plugs_into or device.hangs_under:
            continue
        for at in _seats(job, tag, idle_holes(layout, stand)):
            box = envelope_box(job.part_of(tag), at)
            others = {
                t: p
                for t, p in stand.items()
                if t in must or not envelope_box(job.part_of(t), p).overlaps(box)
            }
            if not faults_about(job, layout, tag, {**others, tag: at}):
                stand = {**others, tag: at}
                break
    return stand


def _seats(job: Job, tag: str, idle: tuple[Hole, ...]) -> Iterator[Placement]:
    """Yield the places, within the plate, where every foot of a device falls on an idle hole."""
    part, plate = job.part_of(tag), job.settings.plate.box
    feet = hole_offsets(part)
    if part.screw is None or not feet:
        return
    fit = [hole for hole in idle if same_size(hole, part.screw)]
    for hole in fit:
        at = Placement(x=round(hole.x - feet[0].x, 3), y=round(hole.y - feet[0].y, 3))
        body = body_box(part, at)
        corners = (Point(body.left, body.bottom), Point(body.right, body.top))
        if all(plate.contains(corner) for corner in corners) and all(
            any(hypot(h.x - at.x - foot.x, h.y - at.y - foot.y) <= FOOT_OFF for h in fit)
            for foot in feet
        ):
            yield at


def faults_about(job: Job, layout: Layout, tag: str, devices: Mapping[str, Placement]) -> int:
    """Return how many things the checks of space find wrong about a device."""
    panel = panel_of(job, replace(layout, devices=devices, holes={}))
    return sum(
        one.verdict in _WRONG and (one.subject == tag or tag in one.message)
        for one in run_rules(panel, ("space",))
        if one.rule.id != "space.unplaced"
    )
