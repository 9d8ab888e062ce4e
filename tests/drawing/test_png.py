"""PNG read from outside by Pillow: size, dots an inch, and colours where they belong."""

import io

import pytest
from PIL import Image

from platewright.drawing.picture import Picture, Polyline, Rect
from platewright.drawing.png import write_png
from platewright.drawing.svg import write_svg
from platewright.drawing.temperature_colours import band_colours
from platewright.model.geometry import Box, Point


def ring():
    """A square of 30 with a hole of 10 and a second square far off, joined by slits."""
    outer = [(5, 5), (35, 5), (35, 35), (5, 35), (5, 5)]
    hole = [(15, 15), (15, 25), (25, 25), (25, 15), (15, 15)]
    far = [(45, 5), (55, 5), (55, 15), (45, 15), (45, 5)]
    points = [*outer, *hole, (5, 5), *far, (5, 5)]
    return Polyline(layer="HEAT-8", points=tuple(Point(*p) for p in points), closed=True)


PICTURE = Picture(
    width=60, height=40, title="x",
    primitives=(Rect(layer="HEAT-0", box=Box(0, 0, 60, 40)), ring()),
)  # fmt: skip


def test_size_and_colours():
    image = Image.open(io.BytesIO(write_png(PICTURE, per_mm=5)))
    assert image.size == (300, 200)
    assert image.info["dpi"] == pytest.approx((127, 127), abs=0.1)
    cool, hot = (tuple(bytes.fromhex(band_colours()[n][1:])) for n in (0, 8))

    def at(x, y):
        return image.convert("RGB").getpixel((x * 5, 200 - y * 5))

    assert at(10, 10) == hot
    assert at(50, 10) == hot
    assert at(20, 20) == cool, "a hole stays open"
    assert at(40, 8) == cool, "a slit shows nothing"
    assert at(58, 38) == cool


def test_the_same_bytes_again():
    assert write_png(PICTURE) == write_png(PICTURE)


def test_svg_has_the_same_colours():
    text = write_svg(PICTURE).decode()
    assert f'fill="{band_colours()[0]}"' in text
    assert f'fill="{band_colours()[8]}"' in text
