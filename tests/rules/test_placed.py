"""What stands where, measured from the layout."""

import pytest

from platewright.model.device import Place
from platewright.model.geometry import Box
from platewright.model.layout import Run
from platewright.model.part import Mount
from platewright.rules.placed import (
    carries,
    door_devices,
    excused,
    place_of,
    placed_devices,
    rail_box,
    rail_size,
)

from .builders import boxes, device, panel, part, rail


def test_covers_widen_the_envelope_not_the_body():
    covers = {"cover_left": 1.0, "cover_bottom": 2.0, "cover_right": 3.0, "cover_top": 4.0}
    (one,) = placed_devices(panel(**boxes((100, 200), **covers, cover_front=5.0)))
    assert one.body == Box(100, 200, 140, 280)
    assert one.envelope == Box(99, 198, 143, 284)
    assert one.front == 65.0


@pytest.mark.parametrize(
    ("profile", "size"), [("TH35-7.5", (35, 7.5)), ("TH35-15", (35, 15)), ("home-made", None)]
)
def test_rail_profiles_of_iec_60715(profile, size):
    assert rail_size(profile) == size


def test_rails_across_and_upright():
    assert rail_box(rail(100, 200, 300)) == Box(100, 182.5, 400, 217.5)
    assert rail_box(rail(100, 200, 300, run=Run.UPRIGHT)) == Box(82.5, 200, 117.5, 500)


@pytest.mark.parametrize(
    ("x", "y", "carried"),
    [(0, 140, True), (0, 140.5, True), (0, 140.6, False), (140, 140, False), (139, 140, True)],
)
def test_which_rail_carries(x, y, carried):
    (one,) = placed_devices(panel(**boxes((100, 100), mount=Mount.RAIL, rail_center=40.0)))
    assert carries(rail(x, y, 500), one) is carried


def test_places_of_door_and_plate_and_none():
    door = device("-P1", place=Place.DOOR, door_x=10.0, door_y=20.0)
    blind = device("-P2", place=Place.DOOR, door_x=10.0)
    here = panel(
        parts=[part()],
        devices=[(device("-A1"), (1, 2)), (device("-A2"), None), (door, None), (blind, None)],
    )
    assert place_of(here, "-A1") == Box(1, 2, 41, 82)
    assert place_of(here, "-P1") == Box(10, 20, 50, 100)
    assert [place_of(here, tag) for tag in ("-A2", "-P2", "-X9")] == [None] * 3
    assert [one.tag for one in door_devices(here)] == ["-P1"]
    assert [one.tag for one in placed_devices(here)] == ["-A1"]


def test_partners_excuse_each_other_and_all_excuse_themselves():
    devices = [
        (device("-A1"), (0, 0)),
        (device("-A2", plugs_into="-A1"), (40, 0)),
        (device("-A3", hangs_under="-A9"), (99, 0)),
    ]
    placed = placed_devices(panel(parts=[part()], devices=devices))
    assert set(excused(placed)) == {(0, 0), (1, 1), (2, 2), (0, 1), (1, 0)}
