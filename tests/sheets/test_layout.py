"""The layout drawing by its facts: every place printed, nothing printed over another."""

import dataclasses
import re
from collections import Counter

import pytest

from platewright.drawing.extent import text_box
from platewright.drawing.flatten import flat
from platewright.drawing.picture import Axis, Ordinate, Polyline, Rect, Text
from platewright.model.job import DisplayUnit
from platewright.sheets import layout
from platewright.sheets.layout import LETTERING, NO_LAYOUT, page_of, plate_at_scale
from platewright.sheets.plate_picture import plate_picture
from platewright.sheets.registry import sheets


def words_of(pictures):
    return [p.text for picture in pictures for p in picture.primitives if isinstance(p, Text)]


def told_together(picture, layer="TAG"):
    """Return the x ranges of the brackets over or under neighbours told together."""
    return [
        (p.points[0].x, p.points[3].x, p.points[0].y > p.points[1].y)
        for p in picture.primitives
        if isinstance(p, Polyline)
        and p.layer == layer
        and len(p.points) == 4
        and p.points[1].y == p.points[2].y != p.points[0].y
    ]


def test_every_device_is_named_on_the_plate_and_in_the_table(panel, findings):
    (page,) = sheets()["layout"].draw(panel, findings)
    count = Counter(words_of([page]))
    ranges = [re.fullmatch(r"(.*?)(\d+) … \1(\d+)", word) for word in count]
    for tag in panel.layout.devices:
        stem, number = re.fullmatch(r"(.*?)(\d+)", tag).groups()
        in_series = any(
            found and found[1] == stem and int(number) in range(*sorted_ends(found))
            for found in ranges
        )
        assert count[tag] >= 2 or in_series, tag


def sorted_ends(found):
    low, high = sorted((int(found[2]), int(found[3])))
    return low, high + 1


def test_every_left_edge_is_dimensioned_from_the_datum(panel):
    """By its own number, or in a series: its first edge, and so many of that width."""
    picture = plate_picture(panel)
    xs = {
        o.path[0].x: o.text
        for o in picture.primitives
        if isinstance(o, Ordinate) and o.axis is Axis.X
    }
    series = [
        tuple(map(float, p.text.split(" × ")))
        for p in picture.primitives
        if isinstance(p, Text) and re.fullmatch(r"\d+ × [\d.]+", p.text)
    ]
    under = [(left, right) for left, right, is_below in told_together(picture) if is_below]
    assert len(under) == len(series)
    told = {}
    for left, right in under:
        (found,) = [(n, w) for n, w in series if abs(n * w - (right - left)) < 0.05]
        told |= {round(left + k * found[1], 3): left for k in range(int(found[0]))}
    for at in panel.layout.devices.values():
        assert xs.get(at.x) == f"{at.x:g}" or xs[told[round(at.x, 3)]]


def test_every_ordinate_says_where_its_leader_starts(panel):
    for o in plate_picture(panel).primitives:
        if isinstance(o, Ordinate):
            start = o.path[0].x if o.axis is Axis.X else o.path[0].y
            assert float(o.text) == pytest.approx(start, abs=0.05)


def test_ordinates_of_ducts_and_rails_are_all_there(panel):
    ys = {
        float(o.text)
        for o in plate_picture(panel).primitives
        if isinstance(o, Ordinate) and o.axis is Axis.Y
    }
    assert {0, 10, 50, 215, 275, 405, 465, 590, 630, 640, 528, 340} == ys


@pytest.mark.parametrize("lettering", [5.0, 12.5])
def test_no_lettering_lies_on_other_lettering(panel, lettering):
    picture = plate_picture(panel, lettering=lettering)
    texts = [part for part in flat(picture) if isinstance(part, Text)]
    boxes = [(text.text, text_box(text)) for text in texts]
    for index, (words, box) in enumerate(boxes):
        for other_words, other in boxes[index + 1 :]:
            assert not box.overlaps(other), (words, other_words)


def test_lettering_is_2_5_mm_on_every_sheet(panel, findings):
    for name, sheet in sheets().items():
        for page in sheet.draw(panel, findings):
            sizes = {round(p.size, 3): p.text for p in flat(page) if isinstance(p, Text)}
            assert min(sizes) >= 2.5, (name, sizes[min(sizes)])
    scale = page_of(panel).scale
    assert LETTERING * scale in {
        p.size for p in plate_at_scale(panel).primitives if isinstance(p, Text)
    }


def test_bodies_are_where_the_layout_says(panel):
    boxes = {
        (p.box.left, p.box.bottom, round(p.box.width, 6), round(p.box.height, 6))
        for p in plate_picture(panel).primitives
        if isinstance(p, Rect) and p.layer == "DEVICE"
    }
    assert boxes == {
        (at.x, at.y, part.width, part.height)
        for tag, at in panel.layout.devices.items()
        for part in [panel.job.part_of(tag)]
    }


def test_without_a_layout_the_sheet_says_so(bare_panel, findings):
    pages = sheets()["layout"].draw(bare_panel, findings)
    assert NO_LAYOUT in words_of(pages)


def test_an_inch_job_prints_inches_on_inch_paper(inch_panel, findings):
    (page,) = sheets()["layout"].draw(inch_panel, findings)
    assert (page.width, page.height) == pytest.approx((17 * 25.4, 11 * 25.4))
    words = words_of([page])
    ordinates = [p.text for p in page.primitives if isinstance(p, Ordinate)]
    assert f"{800 / 25.4:.2f}" in ordinates
    assert "inch" in words


def test_a_large_plate_gets_larger_paper_and_further_pages(panel, findings):
    settings = panel.job.settings
    plate = dataclasses.replace(settings.plate, width=1896.0, height=1696.0)
    settings = dataclasses.replace(settings, plate=plate, units=DisplayUnit.MM)
    devices = dict(panel.job.devices) | {
        f"-X{n}": dataclasses.replace(panel.job.devices["-X2"], tag=f"-X{n}")
        for n in range(100, 300)
    }
    job = dataclasses.replace(panel.job, settings=settings, devices=devices)
    large = dataclasses.replace(panel, job=job)
    pages = sheets()["layout"].draw(large, findings)
    assert pages[0].width == 594
    assert len(pages) > 1
    tags = [word for word in words_of(pages) if word.startswith("-X2")]
    assert {f"-X{n}" for n in range(200, 300)} <= set(tags)


def test_a_rail_led_past_other_devices_is_named_behind_its_end(panel):
    """Its leader comes from the left across a device that is none of its own."""
    devices, rails = panel.layout.devices, panel.layout.rails
    tag = next(
        name
        for name, at in devices.items()
        if panel.job.part_of(name).rail_center is not None and panel.job.part_of(name).width > 40
    )
    part, at = panel.job.part_of(tag), devices[tag]
    axis = at.y + part.rail_center
    short = dataclasses.replace(next(iter(rails.values())), x=at.x - 2, y=axis,
                                length=part.width + 4)  # fmt: skip

    def name_of(stands_left):
        stands = {tag: at}
        if stands_left:
            other = next(t for t in devices if t != tag and panel.job.part_of(t).width < at.x - 20)
            stands[other] = dataclasses.replace(at, x=5.0)
        layout = dataclasses.replace(panel.layout, devices=stands, rails={"R9": short}, ducts={})
        drawn = plate_picture(dataclasses.replace(panel, layout=layout), lettering=5.0)
        (text,) = (p for p in flat(drawn) if isinstance(p, Text) and p.text == "R9")
        return text_box(text)

    assert name_of(stands_left=False).right <= short.x
    behind = name_of(stands_left=True)
    assert behind.left >= short.x + short.length
    assert behind.right < short.x + short.length + 20
    assert abs(behind.centre.y - axis) < 5


def test_the_side_view_stands_clear_of_its_heading(panel, findings):
    for high in (640, 930, 940, 950, 1300):  # 940 fills its paper all but the least air
        plate = dataclasses.replace(panel.job.settings.plate, height=float(high))
        enclosure = dataclasses.replace(panel.job.settings.enclosure, height=float(high + 60))
        settings = dataclasses.replace(panel.job.settings, plate=plate, enclosure=enclosure)
        tall = dataclasses.replace(panel, job=dataclasses.replace(panel.job, settings=settings))
        (page,) = sheets()["elevation"].draw(tall, findings)
        notes = [text_box(p) for p in page.primitives
                 if isinstance(p, Text) and p.at.y > page.height - 40 and p.layer == "TEXT"]  # fmt: skip
        door = [p.box for p in page.primitives if isinstance(p, Rect) and p.layer == "DOOR"]
        assert notes
        assert max(box.top for box in door) < min(box.bottom for box in notes)


def test_sheet_and_dxf_draw_the_plate_once_for_each_scale(panel, findings, monkeypatch):
    """Measuring for the paper draws it too; a change of the panel is a new drawing."""
    drawn = []

    def counted(of, *, lettering, with_holes):
        drawn.append(lettering)
        return plate_picture(of, lettering=lettering, with_holes=with_holes)

    monkeypatch.setattr(layout, "plate_picture", counted)
    monkeypatch.setattr(layout, "_LAST", [])
    (page,) = sheets()["layout"].draw(panel, findings)
    plate_at_scale(panel)
    assert len(drawn) == len(set(drawn)) > 0
    settings = panel.job.settings
    turned = dataclasses.replace(settings, units=DisplayUnit.INCH)
    inch = dataclasses.replace(panel, job=dataclasses.replace(panel.job, settings=turned))
    before = len(drawn)
    (other,) = sheets()["layout"].draw(inch, findings)
    assert len(drawn) > before
    assert words_of([other]) != words_of([page])
