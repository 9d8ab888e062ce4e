"""A panel 75 deep in a door 232 from the plate leaves 157 (trade example: bottle rinser)."""

import pytest

from platewright.model.device import Place

from ..builders import device, panel, part, settings, told, verdict

RULE = "space.door-device"


def before(x=100.0, depth=157.0, *, gap=0.0, cover=0.0):
    door = device("-P1", part="hmi", place=Place.DOOR, door_x=120.0, door_y=100.0)
    return panel(
        parts=[
            part(depth=depth, cover_right=cover),
            part("hmi", width=240.0, height=260.0, depth=75.0),
        ],
        devices=[(device("-T3"), (x, 150)), (door, None)],
        job=settings(enclosure={"door_inside": 232.0}, limits={"door_gap": gap}),
    )


@pytest.mark.parametrize(("depth", "wanted"), [(157.0, "PASS"), (156.9, "PASS"), (157.1, "FAIL")])
def test_three_depths(depth, wanted):
    assert verdict(RULE, before(depth=depth)) == wanted


@pytest.mark.parametrize(("depth", "wanted"), [(142.0, "PASS"), (141.9, "PASS"), (142.1, "FAIL")])
def test_gap(depth, wanted):
    assert verdict(RULE, before(depth=depth, gap=15.0)) == wanted


@pytest.mark.parametrize(("x", "wanted"), [(80.0, "PASS"), (79.9, "PASS"), (80.1, "FAIL")])
def test_only_where_they_face_each_other(x, wanted):
    assert verdict(RULE, before(x, depth=207.0)) == wanted


@pytest.mark.parametrize(("cover", "wanted"), [(20.0, "PASS"), (20.1, "FAIL")])
def test_covers_face_it_too(cover, wanted):
    assert verdict(RULE, before(60.0, depth=207.0, cover=cover)) == wanted


def test_the_cure_moves_either():
    (found,) = told(RULE, before(depth=207.0))
    assert found.cure.startswith("Move -T3 20.0 mm left, or -P1 20.0 mm right")
    assert "50.0 mm too deep" in found.cure


@pytest.mark.parametrize(("cover", "wanted"), [(20.0, "PASS"), (19.9, "PASS"), (20.1, "FAIL")])
def test_covers_of_the_door_device_count_in_width(cover, wanted):
    door = device("-P1", part="hmi", place=Place.DOOR, door_x=160.0, door_y=100.0)
    hmi = part("hmi", width=100.0, height=260.0, depth=75.0, cover_left=cover)
    here = panel(
        parts=[part(depth=207.0), hmi],
        devices=[(device("-T3"), (100, 150)), (door, None)],
        job=settings(enclosure={"door_inside": 232.0}),
    )
    assert verdict(RULE, here) == wanted


@pytest.mark.parametrize(("cover", "wanted"), [(10.0, "PASS"), (9.9, "PASS"), (10.1, "FAIL")])
def test_what_reaches_behind_the_door_device_counts_in_depth(cover, wanted):
    door = device("-P1", part="hmi", place=Place.DOOR, door_x=100.0, door_y=100.0)
    hmi = part("hmi", width=100.0, height=260.0, depth=75.0, cover_front=cover)
    here = panel(
        parts=[part(depth=147.0), hmi],
        devices=[(device("-T3"), (100, 150)), (door, None)],
        job=settings(enclosure={"door_inside": 232.0}),
    )
    assert verdict(RULE, here) == wanted
    assert told(RULE, here)[0].place.right == 140.0
