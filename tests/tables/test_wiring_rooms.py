import pytest

from platewright.model.wire import SizeSystem, WireSize
from platewright.tables.bending_space import bending_space
from platewright.tables.reader import read_table
from platewright.tables.wiring_rooms import WiringRoom, smallest_wiring_room, wiring_room
from platewright.wiring.copper import conductor_area


def test_limits_belong_to_the_smaller_row() -> None:
    assert wiring_room(1.5).minimum < wiring_room(1.5001).minimum
    assert wiring_room(0.1) == smallest_wiring_room()
    assert wiring_room(1000.0).up_to is None


def test_thicker_wires_never_need_less() -> None:
    rows = read_table("wiring_rooms", WiringRoom)
    minima = [row.minimum for row in rows]
    assert minima == sorted(minima)
    assert all(row.comfortable >= row.minimum for row in rows)


def test_rooms_are_the_larger_of_both_collections() -> None:
    # practice: two collections give the room for these wires as (area, least, least)
    for area, one, other in (
        (1.5, 20, 20),
        (2.5, 25, 25),
        (4, 40, 35),
        (6, 40, 35),
        (10, 60, 45),
        (16, 60, 55),
        (25, 80, 75),
        (35, 80, 75),
    ):
        assert wiring_room(area).minimum == max(one, other)
    assert [wiring_room(area).comfortable for area in (1.5, 2.5, 6, 16, 35, 50)] == [
        round(1.5 * 25.4),
        40,
        round(2 * 25.4),
        75,
        round(4 * 25.4),
        200,
    ]
    # NEC Table 312.6(B): 1/0, 2/0, 3/0, 4/0 AWG and 250 kcmil in inches
    for area, inches in ((53.5, 5.5), (67.4, 6), (85.0, 6.5), (107.2, 7), (126.7, 8.5)):
        assert wiring_room(area).minimum == pytest.approx(inches * 25.4, abs=0.5)
        assert wiring_room(area).comfortable == max(200, wiring_room(area).minimum)


def test_heavy_wires_get_the_bending_space_of_the_code() -> None:
    # NEC Table 312.6(B), one wire per terminal
    for number in ("1/0", "2/0", "3/0", "4/0", "250"):
        size = WireSize(number, SizeSystem.AWG)
        space = bending_space(size)
        assert space is not None
        assert space.opposite is not None
        assert wiring_room(conductor_area(size)).minimum >= space.opposite
