"""The arrays against the plain geometry of single boxes, on random boxes."""

import math
import random

import pytest

from platewright.model.geometry import TOUCH, Box, Point
from platewright.rules.distances import (
    SIDES,
    free_distances,
    inside,
    nearest_pairs,
    overlaps,
    overlaps_within,
)


def random_boxes(seed, count=40):
    dice = random.Random(seed)
    corners = [(dice.randint(0, 60), dice.randint(0, 60)) for _ in range(count)]
    return [Box(x, y, x + dice.randint(1, 12), y + dice.randint(1, 12)) for x, y in corners]


def plain_distance(one, other, side):
    in_x, in_y = one.overlap(other)
    ways = {
        "left": (one.left - other.right, in_y),
        "right": (other.left - one.right, in_y),
        "top": (other.bottom - one.top, in_x),
        "bottom": (one.bottom - other.top, in_x),
    }
    distance, across = ways[side]
    if across <= TOUCH:
        return math.inf
    if distance >= 0:
        return distance
    nearest = max(way for way, _ in ways.values())
    return distance if one.overlaps(other) and distance == nearest else math.inf


@pytest.mark.parametrize("seed", range(8))
def test_free_distances(seed):
    ones, others = random_boxes(seed), random_boxes(seed + 100, 30)
    free = free_distances(ones, others)
    for side in SIDES:
        for i, one in enumerate(ones):
            for j, other in enumerate(others):
                assert free[side][i, j] == plain_distance(one, other, side)


@pytest.mark.parametrize("seed", range(8))
def test_overlaps(seed):
    ones, others = random_boxes(seed), random_boxes(seed + 100, 30)
    wanted = [
        (i, j)
        for i, one in enumerate(ones)
        for j, other in enumerate(others)
        if one.overlaps(other)
    ]
    assert list(overlaps(ones, others)) == wanted
    within = [
        (i, j)
        for i in range(len(ones))
        for j in range(i + 1, len(ones))
        if ones[i].overlaps(ones[j])
    ]
    assert list(overlaps_within(ones)) == within


@pytest.mark.parametrize("seed", range(8))
def test_points(seed):
    dice = random.Random(seed)
    points = [Point(dice.uniform(0, 60), dice.uniform(0, 60)) for _ in range(50)]
    boxes = random_boxes(seed)
    wanted = [
        (i, j)
        for i, point in enumerate(points)
        for j, box in enumerate(boxes)
        if box.contains(point)
    ]
    assert list(inside(points, boxes)) == wanted
    near = [
        (i, j, math.dist((points[i].x, points[i].y), (points[j].x, points[j].y)))
        for i in range(50)
        for j in range(i + 1, 50)
    ]
    assert list(nearest_pairs(points, 7.0)) == [
        (i, j, pytest.approx(apart)) for i, j, apart in near if apart <= 7.0
    ]


def test_none_at_all():
    assert list(overlaps([], [])) == []
    assert list(overlaps_within([])) == []
    assert list(inside([], random_boxes(1))) == []
    assert list(nearest_pairs([], 5.0)) == []
    assert free_distances([], [])["left"].shape == (0, 0)
