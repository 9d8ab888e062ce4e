"""Room for chuck, drill and screwdriver round a hole, against what stands on the plate then.

All lengths of tools are shop practice (``tools.csv``). A drill's point comes out at the back of the
plate, so its chuck is at its lowest when the hole is through; what stands beside must fit under
the chuck or stay clear of it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import TypeAlias

from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit, Job
from platewright.model.layout import Duct, Layout, Rail, Run
from platewright.model.lengths import room_words, said, with_unit
from platewright.model.panel import envelope_box
from platewright.tables.ducts import duct_practice
from platewright.tables.rails import rail_profile
from platewright.tables.tools import drill_length, tool

_Ring: TypeAlias = tuple[Mm, Mm, str]  # radius, height above the plate where it begins, name
USUAL_RAIL: tuple[Mm, Mm] = (35.0, 7.5)  # width and height where the profile is not known


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Something on the plate: the boxes that stand up from it, and how high above its face."""

    tag: str
    boxes: tuple[Box, ...]
    height: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class InTheWay:
    """What a tool would meet, and how: ``words`` go on behind the hole's tag."""

    tag: str
    words: str


def standing_device(job: Job, layout: Layout, tag: str) -> Standing:
    """Return a device as it stands, covers and plugs on."""
    part = job.part_of(tag)
    height = part.depth + (part.cover_front or 0.0)
    return Standing(tag=tag, boxes=(envelope_box(part, layout.devices[tag]),), height=height)


def standing_rail(tag: str, rail: Rail) -> Standing:
    """Return a rail: as wide and high as its profile."""
    profile = rail_profile(rail.profile)
    width, height = (profile.width, profile.height) if profile else USUAL_RAIL
    half = width / 2
    if rail.run is Run.ACROSS:
        box = Box(rail.x, rail.y - half, rail.x + rail.length, rail.y + half)
    else:
        box = Box(rail.x - half, rail.y, rail.x + half, rail.y + rail.length)
    return Standing(tag=tag, boxes=(box,), height=height)


def standing_duct(tag: str, duct: Duct) -> Standing:
    """Return a duct without its cover: two walls; what lies between them is open."""
    wall, box = duct_practice().side_wall, duct.box
    if duct.run is Run.ACROSS:
        walls = (
            Box(box.left, box.bottom, box.right, box.bottom + wall),
            Box(box.left, box.top - wall, box.right, box.top),
        )
    else:
        walls = (
            Box(box.left, box.bottom, box.left + wall, box.top),
            Box(box.right - wall, box.bottom, box.right, box.top),
        )
    return Standing(tag=tag, boxes=walls, height=duct.height)


def standing(job: Job, layout: Layout, tag: str) -> Standing:
    """Return a device, rail or duct as it stands on the plate."""
    if tag in layout.devices:
        return standing_device(job, layout, tag)
    if tag in layout.rails:
        return standing_rail(tag, layout.rails[tag])
    return standing_duct(tag, layout.ducts[tag])


def footprint(layout: Layout, job: Job, tag: str) -> Box:
    """Return what a thing covers of the plate, a duct's floor included."""
    if tag in layout.ducts:
        return layout.ducts[tag].box
    return standing(job, layout, tag).boxes[0]


def meets_drill(
    centre: Point, *, drill: Mm, thickness: Mm, standing: Iterable[Standing], unit: DisplayUnit
) -> tuple[InTheWay, ...]:
    """Return what drill, chuck or drill body would touch while the hole is drilled through."""
    return _met(centre, _drill_rings(drill, thickness), standing, unit)


@cache
def drill_room(drill: Mm, *, thickness: Mm, height: Mm) -> Mm:
    """Return how far a hole must be from something this high to be drilled beside it."""
    return max(radius for radius, above, _ in _drill_rings(drill, thickness) if height > above)


@cache
def driver_room(height: Mm) -> Mm:
    """Return how far a screw must be from something this high for the slimmest, longest blade."""
    driver = Driver(blade=tool("slim blade"), length=tool("longest blade"))
    return max(radius for radius, above, _ in _driver_rings(driver) if height > above)


def _drill_rings(drill: Mm, thickness: Mm) -> tuple[_Ring, ...]:
    free = drill_length(drill) - tool("grip")  # from the chuck's jaws to the point
    face = free - thickness - tool("through")  # of the chuck above the plate, hole through
    back = face + tool("chuck length")
    air = tool("air")
    return (
        (drill / 2 + air, 0.0, "the drill"),
        (tool("chuck diameter") / 2 + air, face, "the chuck"),
        (tool("drill body radius") + air, back, "the drill's body"),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """A screwdriver, or bit with extension: thickness and length of its blade."""

    blade: Mm
    length: Mm


def drivers() -> tuple[Driver, ...]:
    """Return the usual screwdrivers in the order of liking: short before long, thick before slim."""
    return tuple(
        Driver(blade=tool(thick), length=tool(long))
        for thick in ("blade diameter", "slim blade")
        for long in ("usual blade", "long blade", "longest blade")
    )


def _driver_rings(driver: Driver) -> tuple[_Ring, ...]:
    air = tool("blade air")
    return (
        (driver.blade / 2 + air, 0.0, "the screwdriver's blade"),
        (tool("handle diameter") / 2 + air, driver.length, "the screwdriver's handle"),
    )


def driver_for(centre: Point, standing: Iterable[Standing]) -> Driver | None:
    """Return the handiest screwdriver that reaches a screw; ``None``: not one of them does."""
    things = tuple(standing)
    for driver in drivers():
        if all(_first_met(centre, _driver_rings(driver), thing) is None for thing in things):
            return driver
    return None


def is_barred(centre: Point, *, drill: Mm, thickness: Mm, thing: Standing) -> bool:
    """Tell whether drill, chuck or drill body would touch a thing."""
    return _first_met(centre, _drill_rings(drill, thickness), thing) is not None


def _first_met(centre: Point, rings: Iterable[_Ring], thing: Standing) -> _Ring | None:
    """Return the first size of a tool that a thing stands too near to, of those it is as high as."""
    away = _away(centre, thing)
    for ring in rings:
        radius, above, _ = ring
        if away < radius and thing.height > above:
            return ring
    return None


def _met(
    centre: Point, sizes: Iterable[_Ring], standing: Iterable[Standing], unit: DisplayUnit
) -> tuple[InTheWay, ...]:
    """Return what comes too near, in words of the job's unit."""
    found = []
    rings = tuple(sizes)
    for thing in standing:
        if (ring := _first_met(centre, rings, thing)) is None:
            continue
        radius, above, name = ring
        where = f", {with_unit(round(above), unit)} above the plate," if above else ""
        words = (
            f"{name}{where} would touch {thing.tag}, {with_unit(thing.height, unit)} high and "
            f"{room_words(_away(centre, thing), unit)} away ({said(radius, unit)} needed)"
        )
        found.append(InTheWay(tag=thing.tag, words=words))
    return tuple(found)


def _away(centre: Point, thing: Standing) -> Mm:
    return min(box.distance_to(centre) for box in thing.boxes)
