import pytest

from platewright.drawing.flatten import baseline, flat, flat_dimension, flat_ordinate
from platewright.drawing.picture import (
    Anchor,
    Axis,
    Dimension,
    Line,
    Ordinate,
    Picture,
    Polyline,
    Text,
)
from platewright.model.geometry import Point


def test_capitals_stand_about_their_place():
    level = Text(layer="TAG", at=Point(10, 10), text="A", size=2.0)
    upright = Text(layer="TAG", at=Point(10, 10), text="A", size=2.0, rotation=90.0)
    on_base = Text(layer="TAG", at=Point(10, 10), text="A", size=2.0, on_base=True)
    assert baseline(level) == Point(10, 9)
    assert baseline(upright).x == pytest.approx(11)
    assert baseline(upright).y == pytest.approx(10)
    assert baseline(on_base) == Point(10, 10)


def test_an_x_ordinate_is_written_upright_below_its_leader():
    path = (Point(5, 0), Point(5, -3), Point(7, -5))
    leader, text = flat_ordinate(Ordinate(layer="DIM", axis=Axis.X, path=path, text="5", size=2))
    assert leader == Polyline(layer="DIM", points=path)
    assert (text.rotation, text.anchor, text.at.x) == (90.0, Anchor.RIGHT, 7)
    assert text.at.y < -5


@pytest.mark.parametrize("axis", [Axis.X, Axis.Y])
def test_arrows_of_a_dimension_touch_what_it_measures(axis):
    end = Point(50, 0) if axis is Axis.X else Point(0, 50)
    dimension = Dimension(
        layer="DIM", axis=axis, start=Point(0, 0), end=end, through=-10, text="50", size=2.5
    )
    parts = list(flat_dimension(dimension))
    tips = [part.points[0] for part in parts if isinstance(part, Polyline)]
    expected = {(0, -10), (50, -10)} if axis is Axis.X else {(-10, 0), (-10, 50)}
    assert {(tip.x, tip.y) for tip in tips} == expected
    assert sum(isinstance(part, Line) for part in parts) == 3
    assert [part.text for part in parts if isinstance(part, Text)] == ["50"]


def test_everything_else_passes_unchanged():
    line = Line(layer="PLATE", start=Point(0, 0), end=Point(1, 1))
    picture = Picture(width=1, height=1, title="", primitives=(line,))
    assert list(flat(picture)) == [line]
