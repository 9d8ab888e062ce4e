"""DXF read back and audited by the library that also reads other programs' files."""

import io
from itertools import pairwise

import ezdxf
import pytest
from ezdxf.bbox import extents

from platewright.drawing.dxf import write_dxf
from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Arc, Axis, Circle, Dimension, Ordinate, Picture, Rect, Text
from platewright.drawing.styles import STYLES
from platewright.model.geometry import Box, Point


def read(*primitives):
    picture = Picture(width=100, height=100, title="plate", primitives=primitives)
    document = ezdxf.read(io.StringIO(write_dxf(picture).decode()))
    assert document.audit().errors == []
    return document


def test_it_is_in_mm_and_nothing_is_scaled():
    document = read(Rect(layer="PLATE", box=Box(0, 0, 1150, 750)))
    assert document.dxfversion == "AC1024"  # R2010
    assert document.units == 4
    assert document.header["$MEASUREMENT"] == 1
    box = extents(document.modelspace())
    assert (box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y) == (0, 0, 1150, 750)


def test_holes_are_true_circles():
    circle = read(Circle(layer="HOLE-TAP", centre=Point(12.5, 40), radius=2.1)).modelspace()[0]
    assert (circle.dxftype(), circle.dxf.layer) == ("CIRCLE", "HOLE-TAP")
    assert circle.dxf.radius == 2.1
    assert tuple(circle.dxf.center) == (12.5, 40, 0)


@pytest.mark.parametrize(
    ("axis", "end", "value"), [(Axis.X, Point(30, -10), 30), (Axis.Y, Point(-10, 45), 45)]
)
def test_ordinates_are_true_dimensions_from_the_datum(axis, end, value):
    feature = Point(30, 45)
    words = str(value)
    document = read(Ordinate(layer="DIM", axis=axis, path=(feature, end), text=words, size=2.5))
    dimension = document.modelspace()[0]
    assert dimension.dxftype() == "DIMENSION"
    is_x = bool(dimension.dxf.dimtype & 64)  # DXF reference, group 70: ordinate of type x
    assert is_x is (axis is Axis.X)
    measured = dimension.get_measurement()
    assert (measured.x if is_x else measured.y) == pytest.approx(value)
    assert dimension.dxf.text == words


@pytest.mark.parametrize("is_level", [False, True])
def test_the_number_and_leader_of_an_ordinate_stand_where_the_drawing_has_them(is_level):
    """Level under the row, or upright; its leader jogs as drawn."""
    path = (Point(30, 45), Point(30, 40), Point(36, 30), Point(36, 20))
    drawn = Ordinate(layer="DIM", axis=Axis.X, path=path, text="30", size=2.5, is_level=is_level)
    dimension = read(drawn).modelspace()[0]
    parts = list(dimension.virtual_entities())
    (words,) = (part for part in parts if part.dxftype() == "MTEXT")
    assert words.get_rotation() == pytest.approx(0 if is_level else 90)
    assert words.dxf.attachment_point == 5  # DXF reference, group 71: middle centre
    assert words.dxf.insert.x == pytest.approx(36)
    half = 2.5 / 2 if is_level else text_width("30", 2.5) / 2
    assert words.dxf.insert.y == pytest.approx(20 - 0.4 * 2.5 - half)
    assert dimension.dxf.dimtype & 128  # group 70: the text is where a user put it
    lines = [((p.dxf.start.x, p.dxf.start.y), (p.dxf.end.x, p.dxf.end.y))
             for p in parts if p.dxftype() == "LINE"]  # fmt: skip
    assert lines == [((a.x, a.y), (b.x, b.y)) for a, b in pairwise(path)]


def test_a_dimension_measures_what_it_says():
    drawn = Dimension(
        layer="DIM", axis=Axis.X, start=Point(3, 0), end=Point(53, 9), through=-8, text="50", size=2
    )
    dimension = read(drawn).modelspace()[0]
    assert dimension.get_measurement() == pytest.approx(50)


@pytest.mark.parametrize("words", ["{\\C1;red}", "100%%d", "a^Jb", "<tag>", "中", "x\ny"])
def test_hostile_words_stay_one_line_of_words(words):
    document = read(Text(layer="TAG", at=Point(0, 0), text=words, size=2.5))
    (entity,) = document.modelspace()
    assert entity.dxftype() == "TEXT"
    assert entity.plain_text() == words.replace("\n", "?")


def test_the_diameter_sign_is_the_code_readers_know():
    document = read(Text(layer="TAG", at=Point(0, 0), text="⌀4.2", size=2.5))
    assert document.modelspace()[0].plain_text() == "Ø4.2"


def test_layers_carry_pen_and_dash():
    document = read(
        Rect(layer="COVER", box=Box(0, 0, 1, 1)),
        Arc(layer="BORDER", centre=Point(0, 0), radius=1, start=0, end=90),
    )
    layer = document.layers.get("COVER")
    assert layer.dxf.lineweight == round(STYLES["COVER"].pen * 100)
    assert layer.dxf.linetype in document.linetypes
    assert {e.dxf.layer for e in document.modelspace()} <= {x.dxf.name for x in document.layers}


def test_the_same_picture_gives_the_same_bytes():
    picture = Picture(
        width=1,
        height=1,
        title="",
        primitives=(
            Ordinate(layer="DIM", axis=Axis.X, path=(Point(5, 5), Point(5, 0)), text="5", size=2),
        ),
    )
    assert write_dxf(picture) == write_dxf(picture)
