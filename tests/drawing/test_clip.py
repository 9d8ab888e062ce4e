"""What is left of a line inside a box, against many points along it."""

import random

import pytest

from platewright.drawing.clip import clipped, is_crossed
from platewright.drawing.picture import Line
from platewright.model.geometry import Box, Point

BOX = Box(0, 0, 10, 6)


def test_against_points_along_the_line():
    chance = random.Random(2)
    for _ in range(300):
        a = Point(chance.uniform(-15, 25), chance.uniform(-10, 16))
        b = Point(chance.uniform(-15, 25), chance.uniform(-10, 16))
        shares = [n / 2000 for n in range(2001)]
        inside = [s for s in shares
                  if 0 <= a.x + s * (b.x - a.x) <= 10 and 0 <= a.y + s * (b.y - a.y) <= 6]  # fmt: skip
        found = clipped(a, b, BOX)
        if len(inside) < 2:
            continue
        assert found is not None
        for end, share in zip(found, (inside[0], inside[-1]), strict=True):
            assert abs(end.x - (a.x + share * (b.x - a.x))) <= abs(b.x - a.x) / 1000 + 1e-9
            assert abs(end.y - (a.y + share * (b.y - a.y))) <= abs(b.y - a.y) / 1000 + 1e-9


def test_level_lines_beside_the_box():
    assert clipped(Point(-5, 7), Point(20, 7), BOX) is None
    assert clipped(Point(-5, 3), Point(20, 3), BOX) == (Point(0, 3), Point(10, 3))
    assert clipped(Point(12, 1), Point(20, 1), BOX) is None


@pytest.mark.parametrize(
    ("ends", "crosses"),
    [
        (((0, 0), (4, 4), (0, 4), (4, 0)), True),
        (((0, 0), (4, 4), (5, 4), (9, 0)), False),
        (((0, 0), (4, 4), (4, 4), (8, 0)), False),  # they touch
        (((0, 0), (4, 0), (0, 1), (4, 1)), False),  # side by side
        (((0, 0), (4, 0), (1, 0), (3, 0)), False),  # one in the other
    ],
)
def test_lines_cross(ends, crosses):
    a, b, c, d = (Point(*end) for end in ends)
    one, other = Line(layer="TAG", start=a, end=b), Line(layer="TAG", start=c, end=d)
    assert is_crossed(one, other) is crosses
    assert is_crossed(other, one) is crosses
