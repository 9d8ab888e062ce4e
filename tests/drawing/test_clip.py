"""What is left of a line inside a box, against many points along it."""

import random

from platewright.drawing.clip import clipped
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
