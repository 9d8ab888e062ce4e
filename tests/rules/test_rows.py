"""Rows of devices 40 × 80."""

import pytest

from platewright.rules.placed import placed_devices
from platewright.rules.rows import rows_of

from .builders import boxes, device, panel, part


def rows(*places):
    return [
        [one.tag for one in row.devices] for row in rows_of(placed_devices(panel(**boxes(*places))))
    ]


def test_rows_run_from_top_to_bottom_and_left_to_right():
    assert rows((200, 100), (10, 300), (100, 90), (90, 310)) == [["-A2", "-A4"], ["-A3", "-A1"]]


@pytest.mark.parametrize(("y", "count"), [(180.0, 2), (180.1, 2), (179.9, 1)])
def test_bodies_that_overlap_in_height_make_a_row(y, count):
    assert len(rows((10, 100), (100, y))) == count


def test_a_row_joins_through_a_third_device():
    assert rows((10, 100), (100, 170), (200, 240)) == [["-A1", "-A2", "-A3"]]


def test_stacked_devices_the_upper_first():
    assert rows((10, 100), (10, 180), (60, 140)) == [["-A2", "-A1", "-A3"]]


def test_no_devices_no_rows():
    assert rows() == []


def hung(y):
    return panel(
        parts=[part()],
        devices=[
            (device("-Q1"), (10, 200)),
            (device("-Q2", hangs_under="-Q1"), (10, y)),
            (device("-F1"), (60, 210)),
            (device("-F2"), (60, 20)),
        ],
    )


@pytest.mark.parametrize("y", [120.0, 119.5, 110.0])
def test_what_hangs_under_a_device_is_in_its_row(y):
    found = [[one.tag for one in row.devices] for row in rows_of(placed_devices(hung(y)))]
    assert found == [["-Q1", "-Q2", "-F1"], ["-F2"]]


def test_what_should_hang_there_but_stands_far_below_is_not():
    found = [[one.tag for one in row.devices] for row in rows_of(placed_devices(hung(30.0)))]
    assert found == [["-Q1", "-F1"], ["-Q2", "-F2"]]
