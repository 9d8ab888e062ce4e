import pytest

from platewright.drawing.extent import extent
from platewright.drawing.picture import (
    Anchor,
    Arc,
    Axis,
    Circle,
    Dimension,
    Line,
    Ordinate,
    Picture,
    Polyline,
    Rect,
    Text,
    placed,
)
from platewright.model.geometry import Box, Point

EVERYTHING = (
    Line(layer="PLATE", start=Point(0, 0), end=Point(10, 20)),
    Polyline(layer="PLATE", points=(Point(0, 0), Point(3, 4), Point(5, 1)), closed=True),
    Rect(layer="DUCT", box=Box(1, 2, 30, 40)),
    Circle(layer="HOLE-TAP", centre=Point(5, 6), radius=2.1),
    Arc(layer="BORDER", centre=Point(8, 8), radius=3, start=10, end=200),
    Text(layer="TAG", at=Point(4, 4), text="-K1", size=2.5, anchor=Anchor.CENTRE, rotation=90),
    Ordinate(layer="DIM", axis=Axis.X, path=(Point(7, 7), Point(7, -3)), text="7", size=2.5),
    Dimension(
        layer="DIM", axis=Axis.Y, start=Point(0, 0), end=Point(0, 60), through=-9, text="60", size=2
    ),
)


def test_placing_scales_and_moves_everything_alike():
    there = placed(EVERYTHING, at=Point(100, 200), scale=0.5)
    before, after = extent(EVERYTHING), extent(there)
    assert len(there) == len(EVERYTHING)
    assert [p.layer for p in there] == [p.layer for p in EVERYTHING]
    for old, new, shift in (
        (before.left, after.left, 100),
        (before.right, after.right, 100),
        (before.bottom, after.bottom, 200),
        (before.top, after.top, 200),
    ):
        assert new == pytest.approx(shift + old * 0.5)


def test_placing_and_placing_back_changes_nothing():
    there = placed(EVERYTHING, at=Point(10, -30), scale=2.0)
    assert placed(there, at=Point(-5, 15), scale=0.5) == EVERYTHING


def test_layers_can_be_left_out():
    picture = Picture(width=1, height=1, title="", primitives=EVERYTHING)
    assert {p.layer for p in picture.without(("DIM", "TAG")).primitives} == {
        "PLATE", "DUCT", "HOLE-TAP", "BORDER",
    }  # fmt: skip


def test_extent_of_turned_lettering_is_upright():
    text = Text(layer="TAG", at=Point(0, 0), text="-K12", size=2.5, rotation=90)
    box = extent((text,))
    assert box.width == pytest.approx(2.5)
    assert box.left == pytest.approx(-1.25)
    assert box.bottom == pytest.approx(0)
    assert box.height > 6
