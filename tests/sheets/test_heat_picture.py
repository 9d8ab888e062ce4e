"""The picture of temperature: the judged numbers in colours, lines and figures."""

import io
from collections import Counter
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from platewright.app.check import read_folder
from platewright.app.gather import panel_of
from platewright.drawing.extent import extent, text_box
from platewright.drawing.flatten import flat
from platewright.drawing.picture import Polyline, Rect, Text
from platewright.drawing.temperature_colours import BANDS
from platewright.heat.panel_heat import heat_of
from platewright.model.geometry import Box, Point
from platewright.model.heat import Field
from platewright.sheets.documents import document, documents
from platewright.sheets.heat_field import Scale, bands, labelled_lines
from platewright.sheets.heat_picture import air_picture, heat_files, heat_poster, surface_picture

ORIGIN = Point(0.0, 0.0)
OUTLINES = ("HEAT-BODY", "HEAT-OVER", "HEAT-CLOSE")
EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.fixture(scope="module")
def warm():
    """The rinser laid out by hand: 236 W, a transformer beside a duct."""
    read = read_folder(EXAMPLES / "bottle-rinser-by-hand")
    return panel_of(read.job, read.layout)


def words(parts):
    return [p.text for p in parts if isinstance(p, Text)]


def area(points):
    ring = pairwise((*points, points[0]))
    return sum(a.x * b.y - b.x * a.y for a, b in ring) / 2


def field(values, width=100.0, height=80.0):
    return Field(area=Box(0, 0, width, height), values=np.asarray(values, dtype=np.float32))


def test_bands_have_the_area_their_temperatures_have():
    """A field that rises evenly from 20 to 40 °C over the width: each band a strip of it."""
    rising = np.broadcast_to(20 + 20 * (np.arange(40) + 0.5) / 40, (30, 40))
    scale = Scale(20.0, 2.5)
    drawn = {
        p.layer: area(p.points)
        for p in bands(field(rising), scale, ORIGIN, 1.0)
        if isinstance(p, Polyline)
    }
    for band, border in enumerate(scale.borders, start=1):
        if border < 40:
            expected = 80 * 100 * (40 - border) / 20
            assert drawn[f"HEAT-{band}"] == pytest.approx(expected, rel=1e-3)
        else:
            assert f"HEAT-{band}" not in drawn


def test_a_cool_spot_in_the_warm_stays_open():
    x, y = np.meshgrid((np.arange(40) - 19.5) / 20, (np.arange(32) - 15.5) / 16)
    warm = 30 + 20 * np.hypot(x, y)
    scale = Scale(30.0, 5.0)
    (ring,) = (
        p for p in bands(field(warm), scale, ORIGIN, 1.0) if getattr(p, "layer", "") == "HEAT-1"
        and isinstance(p, Polyline)
    )  # fmt: skip
    hole = np.pi * 0.25**2 * 50 * 40  # hypot < 1/4: an ellipse of 12.5 by 10
    assert area(ring.points) == pytest.approx(8000 - hole, rel=0.01)


def test_lines_carry_their_temperature_clear_of_what_is_taken():
    rising = np.broadcast_to(20 + 20 * (np.arange(32)[:, None] + 0.5) / 32, (32, 40))
    taken = [Box(0, 0, 60, 80)]
    scale = Scale(20.0, 2.5)
    parts = list(labelled_lines(field(rising), scale, ORIGIN, 1.0, taken))
    assert words(parts) == [f"{border:g}" for border in scale.borders if border < 40]
    for text in parts:
        if isinstance(text, Text):
            assert text_box(text).left >= 60
            assert text.at.y == pytest.approx(80 * (float(text.text) - 20) / 20, abs=0.1)
    broken = [p for p in parts if isinstance(p, Polyline)]
    assert len(broken) == 2 * len(words(parts)), "each line is broken for its number"


@pytest.mark.parametrize("draw", [air_picture, surface_picture])
def test_the_picture_keeps_to_its_space(warm, draw):
    box = extent(draw(warm, heat_of(warm), width=160.0, height=120.0))
    assert box.width <= 160.1
    assert box.height <= 120.1


def test_colour_and_number_of_each_device_are_those_judged(warm):
    heat = heat_of(warm)
    for draw, value in ((air_picture, "air"), (surface_picture, "surface")):
        parts = draw(warm, heat, width=1200.0, height=1200.0)
        told = " ".join(words(parts))
        for one in heat.devices.values():
            number = getattr(one, value)
            assert f"{number.value:.0f} ±{number.band:.0f}" in told, one.tag


def test_a_thick_frame_says_that_a_limit_is_not_kept(warm):
    heat = heat_of(warm)
    parts = air_picture(warm, heat, width=300.0, height=300.0)
    frames = Counter(p.layer for p in parts if isinstance(p, Rect))
    limited = [one for one in heat.devices.values() if one.limit is not None]
    over = [one for one in limited if one.air.low > one.limit]
    close = [one for one in limited if one.air.low <= one.limit < one.air.high]
    assert (frames["HEAT-OVER"], frames["HEAT-CLOSE"]) == (len(over), len(close))
    assert over
    assert close


def test_the_scale_holds_everything_and_is_told_in_degrees(warm):
    heat = heat_of(warm)
    scale = Scale.over((float(heat.front.values.min()), float(heat.front.values.max())))
    assert scale.low <= float(heat.front.values.min())
    assert scale.low + BANDS * scale.step >= float(heat.front.values.max())
    assert scale.layer(scale.low - 50) == "HEAT-0"
    assert scale.layer(scale.low + 1000) == f"HEAT-{BANDS - 1}"
    assert scale.layer(scale.borders[3]) == "HEAT-4"
    told = words(air_picture(warm, heat, width=160.0, height=120.0))
    assert any("°C" in text for text in told)


def test_no_lettering_lies_on_other_lettering(warm):
    boxes = [text_box(p) for p in flat(heat_poster(warm, heat_of(warm))) if isinstance(p, Text)]
    for n, one in enumerate(boxes):
        assert not any(one.overlaps(other) for other in boxes[n + 1 :])


def test_what_must_be_minded_stands_below_all_of_it(warm):
    heat = heat_of(warm)
    many = replace(heat, cautions=(*heat.cautions, "one more", "and another", "and a last one"))
    poster = heat_poster(warm, many)
    assert set(many.cautions) <= set(words(poster.primitives))
    assert extent(poster.primitives).bottom >= 0


def test_nothing_lies_beyond_the_paper(warm):
    poster = heat_poster(warm, heat_of(warm))
    box = extent(poster.primitives)
    assert min(box.left, box.bottom) >= 0
    assert box.right <= poster.width
    assert box.top <= poster.height


def test_it_is_among_the_sheets_as_svg_and_png(warm, findings):
    files = documents(warm, findings)
    assert files["temperatures.svg"].startswith(b"<?xml")
    image = Image.open(io.BytesIO(files["temperatures.png"]))
    assert image.size[0] > 2000
    assert document(warm, findings, "temperatures.svg") == files["temperatures.svg"]
    assert document(warm, findings, "temperatures.png") == files["temperatures.png"]
    assert document(warm, findings, "temperatures.gif") is None


def test_without_a_layout_there_is_none(bare_panel, findings):
    assert heat_files(bare_panel, heat_of(bare_panel)) == {}
    assert document(bare_panel, findings, "temperatures.png") is None


def test_the_side_view_shows_every_device(warm):
    parts = air_picture(warm, heat_of(warm), width=300.0, height=300.0)
    outlines = [p for p in parts if isinstance(p, Rect) and p.layer in OUTLINES]
    # front bodies, side bodies, the plate, and the boxes of the scale
    assert len(outlines) == 2 * len(warm.layout.devices) + 1 + BANDS


def test_numbers_of_lines_keep_off_ducts_where_their_line_has_other_room():
    """Lines upright every 20 mm, numbers in their middle; a duct there moves them off it."""
    rising = np.broadcast_to(20 + 12.5 * (np.arange(40) + 0.5) / 40, (30, 40))
    scale = Scale(20.0, 2.5)
    duct = Box(-1, 35, 101, 45)

    def numbers(shunned):
        parts = labelled_lines(field(rising), scale, ORIGIN, 1.0, [], shunned)
        return [text_box(p) for p in parts if isinstance(p, Text)]

    plain, clear = numbers([]), numbers([duct])
    assert len(plain) == len(clear) == 4
    assert all(box.overlaps(duct) for box in plain)
    assert not any(box.overlaps(duct) for box in clear)
    everywhere = Box(-1, -1, 101, 81)
    assert numbers([everywhere]) == plain  # no other room: there all the same
