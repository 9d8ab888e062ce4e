"""Regions and lines of a level against areas and lengths that geometry tells exactly."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from platewright.drawing.contours import lines, regions
from platewright.model.geometry import path_length

X, Y = np.linspace(-1, 1, 81), np.linspace(-1.5, 1.5, 121)
ROUND = 1 - (X[None, :] ** 2 + Y[:, None] ** 2)


def area(loop):
    return sum(a.x * b.y - b.x * a.y for a, b in pairwise((*loop, loop[0]))) / 2


def test_a_circle_has_its_area_and_length():
    (loop,) = regions(X, Y, ROUND, 0.75)
    assert area(loop) == pytest.approx(math.pi / 4, rel=2e-3)
    (line,) = lines(X, Y, ROUND, 0.75)
    assert line[0] == line[-1]
    assert path_length(line) == pytest.approx(math.pi, rel=2e-3)


def test_a_hole_runs_the_other_way():
    found = sorted(area(loop) for loop in regions(X, Y, -ROUND, -0.75))
    assert found == pytest.approx([-math.pi / 4, 6.0], rel=2e-3)
    assert len(lines(X, Y, -ROUND, -0.75)) == 1, "the edge of the grid is no line"


def test_a_slope_is_met_where_it_is_and_its_line_ends_at_the_edges():
    slope = np.broadcast_to(X[None, :], (Y.size, X.size))
    (line,) = lines(X, Y, slope, 0.3)
    assert [p.x for p in line] == pytest.approx([0.3] * len(line))
    assert sorted([line[0].y, line[-1].y]) == pytest.approx([-1.5, 1.5])
    (loop,) = regions(X, Y, slope, 0.3)
    assert area(loop) == pytest.approx(0.7 * 3)


def test_all_or_nothing():
    (loop,) = regions(X, Y, ROUND, -9)
    assert area(loop) == pytest.approx(6.0)
    assert lines(X, Y, ROUND, -9) == ()
    assert regions(X, Y, ROUND, 9) == ()


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(0, 6), min_size=30, max_size=30), st.integers(1, 6))
def test_regions_close_shrink_with_the_level_and_part_the_plane(cells, level):
    values = np.array(cells, dtype=float).reshape(5, 6)
    x, y = np.arange(6.0), np.arange(5.0)

    def whole(at):
        return sum(area(loop) for loop in regions(x, y, values, at))

    assert 0 <= whole(level) <= whole(level - 0.5) + 1e-9
    assert whole(level) <= 20 + 1e-9
    above, below = whole(level - 0.3), sum(area(p) for p in regions(x, y, -values, 0.3 - level))
    assert above + below == pytest.approx(20.0, abs=1e-6)
