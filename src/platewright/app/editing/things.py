"""Things that stand on the plate, whatever they are: where, how large, moved elsewhere."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TypeAlias

from platewright.foundation.units import Mm
from platewright.jobfile.layout_file import DECIMALS
from platewright.model.geometry import Box
from platewright.model.job import Job
from platewright.model.layout import Duct, Layout, Placement, Rail
from platewright.model.panel import body_box, envelope_box
from platewright.rules.placed import rail_box

Thing: TypeAlias = Placement | Duct | Rail


def thing_of(layout: Layout, tag: str) -> Thing | None:
    """Return what carries a tag; ``None``: nothing on the plate does."""
    return layout.devices.get(tag) or layout.ducts.get(tag) or layout.rails.get(tag)


def with_things(layout: Layout, things: Mapping[str, Thing]) -> Layout:
    """Return the layout with these things put in or changed; the order of the others stays."""
    devices, ducts, rails = dict(layout.devices), dict(layout.ducts), dict(layout.rails)
    for tag, thing in things.items():
        match thing:
            case Placement():
                devices[tag] = thing
            case Duct():
                ducts[tag] = thing
            case Rail():
                rails[tag] = thing
    return replace(layout, devices=devices, ducts=ducts, rails=rails)


def without(layout: Layout, tags: frozenset[str]) -> Layout:
    """Return the layout without these devices, ducts and rails."""
    return replace(
        layout,
        devices={tag: thing for tag, thing in layout.devices.items() if tag not in tags},
        ducts={tag: thing for tag, thing in layout.ducts.items() if tag not in tags},
        rails={tag: thing for tag, thing in layout.rails.items() if tag not in tags},
    )


def body_of(job: Job, tag: str, thing: Thing) -> Box:
    """Return the footprint of a thing, covers off."""
    match thing:
        case Placement():
            return body_box(job.part_of(tag), thing)
        case Duct():
            return thing.box
        case Rail():
            return rail_box(thing)


def envelope_of(job: Job, tag: str, thing: Thing) -> Box:
    """Return the footprint of a thing, covers on."""
    if isinstance(thing, Placement):
        return envelope_box(job.part_of(tag), thing)
    return body_of(job, tag, thing)


def axis_of(job: Job, tag: str, thing: Thing) -> Mm | None:
    """Return the height of the rail centre a device wants; ``None``: it wants none."""
    if not isinstance(thing, Placement):
        return None
    centre = job.part_of(tag).rail_center
    return None if centre is None else thing.y + centre


def moved(thing: Thing, dx: Mm, dy: Mm) -> Thing:
    """Return the thing shifted, to what the file keeps of a millimetre."""
    x, y = kept(thing.x + dx), kept(thing.y + dy)
    match thing:
        case Placement():
            return replace(thing, x=x, y=y)
        case Duct():
            return replace(thing, x=x, y=y)
        case Rail():
            return replace(thing, x=x, y=y)


def kept(length: Mm) -> Mm:
    """Return a length as the layout file keeps it."""
    return round(length, DECIMALS) + 0.0
