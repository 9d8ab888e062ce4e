"""The door sheet: each cut-out once, at its place; what is not known is said."""

import dataclasses

import pytest

from platewright.drawing.extent import text_box
from platewright.drawing.picture import Circle, Line, Rect, Text
from platewright.model.device import Device, Place
from platewright.model.part import Mount, Part
from platewright.sheets.door_sheet import NOTHING, door_picture, door_table
from platewright.sheets.registry import sheets


def words(pages):
    return [p.text for page in pages for p in page.primitives if isinstance(p, Text)]


@pytest.fixture
def doored(panel):
    """The small panel with a lamp and a part without cut-out in its door."""
    lamp = Part(part="lamp", width=30, height=40, depth=55, mount=Mount.SCREWS,
                cutout_diameter=22.5, description="pilot light")  # fmt: skip
    meter = Part(part="meter", width=96, height=96, depth=60, mount=Mount.SCREWS)
    devices = {tag: d for tag, d in panel.job.devices.items() if d.place is Place.PLATE} | {
        "-P7": Device(tag="-P7", part="lamp", place=Place.DOOR, door_x=100, door_y=400),
        "-P8": Device(tag="-P8", part="meter", place=Place.DOOR, door_x=300, door_y=400),
    }
    parts = {**panel.job.parts, "lamp": lamp, "meter": meter}
    job = dataclasses.replace(panel.job, devices=devices, parts=parts)
    return dataclasses.replace(panel, job=job)


def test_cutouts_are_listed_from_the_corner_of_the_door_and_of_the_plate(doored):
    table = door_table(doored, ())
    rows = {row[0]: row for row in table.rows}
    shell, plate = doored.job.settings.enclosure, doored.job.settings.plate
    assert rows["-P7"][2] == "⌀22.5 mm"
    assert rows["-P7"][5:] == (115, 420)
    assert rows["-P7"][3] == pytest.approx(115 + (shell.width - plate.width) / 2)
    assert rows["-P7"][4] == pytest.approx(420 + (shell.height - plate.height) / 2)
    assert rows["-P8"][2].startswith("NOT KNOWN: cutout_width_mm and cutout_height_mm")


def test_the_drawing_shows_the_cutout_true_and_marks_what_is_open(doored):
    parts = door_picture(doored, lettering=9.0)
    (hole,) = [p for p in parts if isinstance(p, Circle) and p.layer == "HOLE-CLEAR"]
    assert (hole.centre.x, hole.centre.y, hole.radius) == (115, 420, 11.25)
    tags = [p.text for p in parts if isinstance(p, Text)]
    assert "-P7" in tags
    assert "-P8 ?" in tags
    told = words(sheets()["door"].draw(doored, ()))
    assert any("Not to be cut yet, data missing (?): -P8" in word for word in told)


def test_a_door_without_work_says_so(panel):
    devices = {tag: d for tag, d in panel.job.devices.items() if d.place is Place.PLATE}
    bare = dataclasses.replace(panel, job=dataclasses.replace(panel.job, devices=devices))
    assert NOTHING in words(sheets()["door"].draw(bare, ()))


def test_the_place_of_a_cutout_stands_under_its_tag_and_nearest_to_its_own_body(panel):
    """Lamps in a row, as near as they are mounted: no number can be read as the neighbour's."""
    lamp = Part(part="lamp", width=30, height=40, depth=55, mount=Mount.SCREWS,
                cutout_diameter=22.5)  # fmt: skip
    places = {f"-P{n}": (60.0 + 45 * n, 380.0 + 25 * (n % 2)) for n in range(1, 6)}
    devices = {tag: d for tag, d in panel.job.devices.items() if d.place is Place.PLATE} | {
        tag: Device(tag=tag, part="lamp", place=Place.DOOR, door_x=x, door_y=y)
        for tag, (x, y) in places.items()
    }
    job = dataclasses.replace(panel.job, devices=devices, parts={**panel.job.parts, "lamp": lamp})
    parts = door_picture(dataclasses.replace(panel, job=job), lettering=9.0)
    texts = {p.text: p for p in parts if isinstance(p, Text)}
    numbers = [p for p in parts if isinstance(p, Text) and p.layer == "DIM"]
    bodies = [p.box for p in parts if isinstance(p, Rect) and p.layer == "COVER"]
    lines = [p for p in parts if isinstance(p, Line) and p.layer == "DIM"]
    assert len(bodies) == len(places)
    settings = job.settings
    for tag, (x, y) in places.items():
        right = x + 15 + (settings.enclosure.width - settings.plate.width) / 2
        up = y + 20 + (settings.enclosure.height - settings.plate.height) / 2
        (number,) = [t for t in numbers if t.text == f"{right:g}, {up:g}"]
        assert (number.at.x, number.at.y) == (texts[tag].at.x, texts[tag].at.y - 1.5 * 9)
        box = text_box(number).union(text_box(texts[tag]))
        own = min(
            bodies, key=lambda body: abs(body.centre.x - x - 15) + abs(body.centre.y - y - 20)
        )
        assert not any(box.overlaps(body) for body in bodies if body is not own)
        led = any(own.distance_to(line.start) < 1e-6 and box.distance_to(line.end) < 1e-6
                  for line in lines)  # fmt: skip
        ways = [body.distance_to(box.centre) for body in bodies]
        assert led or own.distance_to(box.centre) == min(ways)
    boxes = [text_box(p) for p in parts if isinstance(p, Text)]
    assert not any(a.overlaps(b) for k, a in enumerate(boxes) for b in boxes[k + 1 :])
