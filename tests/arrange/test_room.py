"""The room a plate offers round its fixing holes, and the zones behind the door's devices."""

from __future__ import annotations

import math
from dataclasses import replace

from generated_jobs import generated_job
from platewright.arrange.room import room_on
from platewright.model.device import Device, Place
from platewright.model.job import FixingHole, Job, KeepOut, Plate


def _on_plate(plate: Plate) -> Job:
    job = generated_job(6, seed=1)
    return replace(job, settings=replace(job.settings, plate=plate))


def test_corner_holes_are_cleared_on_the_side_that_costs_least() -> None:
    holes = tuple(FixingHole(x=x, y=y) for x in (20.0, 480.0) for y in (20.0, 980.0))
    plate = Plate(width=500.0, height=1000.0, thickness=2.0, edge_margin=10.0, fixing_holes=holes)
    box = room_on(_on_plate(plate)).box
    # by hand: 25 mm more at top and bottom costs 2·25·480, at the sides 2·25·980
    assert (box.left, box.right, box.bottom, box.top) == (10.0, 490.0, 35.0, 965.0)


def test_a_hole_at_the_middle_of_a_side_pushes_that_side_in() -> None:
    plate = Plate(
        width=500.0, height=1000.0, thickness=2.0, fixing_holes=(FixingHole(x=20.0, y=500.0),)
    )
    box = room_on(_on_plate(plate)).box
    assert box.left == 35.0
    assert (box.right, box.bottom, box.top) == (490.0, 10.0, 990.0)


def test_a_region_in_the_middle_is_a_zone_for_nothing() -> None:
    region = KeepOut(x=200.0, y=400.0, width=60.0, height=50.0)
    plate = Plate(width=500.0, height=1000.0, thickness=2.0, keep_outs=(region,))
    room = room_on(_on_plate(plate))
    assert any(z.box == region.box and z.tallest < 0 for z in room.zones)
    assert room.box.left == 10.0


def test_a_door_device_limits_what_stands_behind_it_and_where_it_swings() -> None:
    job = generated_job(6, seed=1)
    part = job.parts["supply-80"]
    panel = Device(tag="-P1", part=part.part, place=Place.DOOR, door_x=300.0, door_y=500.0)
    job = replace(job, devices={**job.devices, "-P1": panel})
    zone = room_on(job).zones[-1]
    enclosure = job.settings.enclosure
    assert zone.tallest == enclosure.door_inside - part.depth
    # hinge left, 50 mm outside the plate: the far corner's radius
    radius = math.hypot(300.0 + part.width + 50.0, part.depth)
    assert math.isclose(zone.box.right, radius - 50.0)
    assert zone.box.left == 300.0


def test_a_door_device_whose_place_is_open_keeps_nothing_free() -> None:
    job = generated_job(6, seed=1)
    lamp = Device(tag="-P1", part="supply-80", place=Place.DOOR)
    assert room_on(replace(job, devices={**job.devices, "-P1": lamp})) == room_on(job)
