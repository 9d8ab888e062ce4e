"""Cut-outs and holes in the door: places by plain addition, sizes by ISO 273."""

from dataclasses import replace

import pytest

from platewright.fabricate.door_work import door_box, door_work
from platewright.model.device import Device, Place
from platewright.model.geometry import Point
from platewright.model.layout import Layout, Placement
from platewright.model.part import Mount, Part

LAMP = Part(part="lamp", width=30, height=40, depth=55, mount=Mount.SCREWS, cutout_diameter=22.5)
PANEL = Part(
    part="panel", width=240, height=160, depth=75, mount=Mount.SCREWS, cutout_width=200,
    cutout_height=120, hole_pattern_width=220, hole_pattern_height=140, screw="M4",
)  # fmt: skip
SWITCH = Part(
    part="switch", width=100, height=120, depth=90, mount=Mount.SCREWS, shaft_x=5, shaft_y=-10,
    handle_diameter=70, cutout_diameter=12,
)  # fmt: skip


def job_with(make_job, *parts, door=(400, 300)):
    job = make_job()
    devices = {
        f"-A{n}": Device(tag=f"-A{n}", part=part.part, place=Place.DOOR,
                         door_x=door[0] if door else None, door_y=door[1] if door else None)
        for n, part in enumerate(parts, start=1)
    }  # fmt: skip
    return replace(job, parts={part.part: part for part in parts}, devices=devices)


def test_the_door_is_as_large_as_the_enclosure_round_the_plate(make_job):
    """Enclosure 900 × 700, plate 800 × 600: 50 mm all round."""
    box = door_box(make_job().settings)
    assert (box.left, box.bottom, box.right, box.top) == (-50, -50, 850, 650)


def test_a_panel_has_its_cutout_and_four_holes(make_job):
    """M4 passes through 4.5 mm (ISO 273 medium)."""
    (work,) = door_work(job_with(make_job, PANEL), Layout())
    assert work.missing == ()
    assert work.centre == Point(520, 380)
    assert work.cutout == (200, 120)
    assert set(work.holes) == {Point(x, y) for x in (410, 630) for y in (310, 450)}
    assert (work.drill, work.size) == (4.5, "M4")


def test_a_lamp_needs_its_round_hole_only(make_job):
    (work,) = door_work(job_with(make_job, LAMP), Layout())
    assert (work.diameter, work.holes, work.missing) == (22.5, (), ())
    assert work.centre == Point(415, 320)


@pytest.mark.parametrize(
    ("part", "told"),
    [
        (replace(LAMP, cutout_diameter=None), "cutout_width_mm and cutout_height_mm, or"),
        (replace(PANEL, cutout_height=None), "cutout_height_mm of panel"),
        (replace(PANEL, screw=None), "screw of panel"),
        (replace(PANEL, cutout_width=217, cutout_height=137), "cut-out or hole pattern of panel"),
        (replace(LAMP, hole_pattern_width=20, hole_pattern_height=0, screw="M3"),
         "cut-out or hole pattern of lamp"),
    ],
)  # fmt: skip
def test_what_is_missing_or_contradicts_itself_is_named(make_job, part, told):
    (work,) = door_work(job_with(make_job, part), Layout())
    assert any(told in missing for missing in work.missing)


def test_holes_may_be_all_that_is_needed(make_job):
    plain = replace(PANEL, cutout_width=None, cutout_height=None)
    (work,) = door_work(job_with(make_job, plain), Layout())
    assert work.missing == ()
    assert len(work.holes) == 4


def test_without_a_place_it_is_not_placed(make_job):
    (work,) = door_work(job_with(make_job, LAMP, door=None), Layout())
    assert work.centre is None
    assert [m.split()[0] for m in work.missing] == ["door_x_mm", "door_y_mm"]


def test_a_shaft_comes_through_where_its_switch_stands(make_job):
    job = make_job()
    device = Device(tag="-Q1", part="switch")
    job = replace(job, parts={"switch": SWITCH}, devices={"-Q1": device})
    (work,) = door_work(job, Layout(devices={"-Q1": Placement(x=100, y=200)}))
    assert work.is_shaft
    assert work.centre == Point(155, 250)
    assert (work.diameter, work.body.width) == (12, 70)
    none = replace(job, parts={"switch": replace(SWITCH, shaft_x=None, shaft_y=None)})
    assert door_work(none, Layout(devices={"-Q1": Placement(x=100, y=200)})) == ()
