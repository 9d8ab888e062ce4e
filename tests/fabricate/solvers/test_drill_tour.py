"""Tours against all orders, against grids whose shortest tour is known, and against themselves."""

import itertools
import random
from math import hypot, sqrt

import numpy as np
import pytest

from platewright.fabricate.kernels import tour as kernel
from platewright.fabricate.solvers.drill_tour import (
    closed_tour,
    drill_path,
    lengths_of,
    next_nearest,
    tour_length,
)
from platewright.model.geometry import Point


def places(count, seed):
    chance = random.Random(seed)
    return np.array([(chance.uniform(0, 800), chance.uniform(0, 1200)) for _ in range(count)])


@pytest.mark.parametrize("seed", range(8))
def test_no_order_of_few_places_is_shorter(seed):
    lengths = lengths_of(places(8, seed))
    shortest = min(
        tour_length((0, *order), lengths) for order in itertools.permutations(range(1, 8))
    )
    tour = closed_tour(lengths)
    assert sorted(tour) == list(range(8))
    assert tour_length(tour, lengths) == pytest.approx(shortest)


@pytest.mark.parametrize(("columns", "rows"), [(4, 4), (5, 5), (7, 7), (10, 10), (9, 12), (15, 15)])
def test_a_full_grid_is_exact(columns, rows):
    """Every step one pitch, and one diagonal where both counts are odd: no tour is shorter."""
    grid = np.array([(25.0 * x, 25.0 * y) for y in range(rows) for x in range(columns)])
    lengths = lengths_of(grid)
    odd = columns * rows % 2
    assert tour_length(closed_tour(lengths), lengths) == pytest.approx(
        25 * (columns * rows + odd * (sqrt(2) - 1))
    )


def test_places_on_a_circle_are_gone_round():
    """A convex outline is its own shortest tour."""
    turns = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    mixed = np.random.default_rng(3).permutation(60)
    circle = np.column_stack([300 * np.cos(turns), 300 * np.sin(turns)])[mixed]
    tour = closed_tour(lengths_of(circle))
    steps = np.diff(mixed[list(tour)], append=mixed[tour[0]]) % 60
    assert set(steps.tolist()) in ({1}, {59})


def test_the_same_places_give_the_same_tour():
    lengths = lengths_of(places(120, 1))
    assert closed_tour(lengths) == closed_tour(lengths.copy())


@pytest.mark.parametrize("count", [8, 13, 40, 90])
def test_what_is_said_to_be_gained_was_gained(count):
    lengths = lengths_of(places(count, count))
    own = lengths.copy()
    np.fill_diagonal(own, np.inf)
    near = np.argsort(own, axis=1, kind="stable")[:, :7].astype(np.int64)
    tour = next_nearest(lengths)
    before = tour_length(tour, lengths)
    gained = kernel.shorten(tour, lengths, near, 300, 5)
    assert sorted(tour.tolist()) == list(range(count))
    assert tour_length(tour, lengths) == pytest.approx(before - gained)
    assert gained > 0


def test_turned_stretches_stay_a_tour_wherever_they_lie():
    chance = random.Random(7)
    for _ in range(200):
        n = chance.randint(5, 12)
        tour = np.array(chance.sample(range(n), n), dtype=np.int64)
        pos = np.argsort(tour).astype(np.int64)
        old = tour.tolist()
        i, j = chance.randrange(n), chance.randrange(n)
        kernel._flip(tour, pos, i, j)
        assert np.array_equal(np.argsort(tour), pos)
        stretch = [old[(i + k) % n] for k in range((j - i) % n + 1)]
        rest = [old[(j + 1 + k) % n] for k in range(n - len(stretch))]
        wanted = stretch[::-1] + rest
        turned = tour.tolist()
        at = turned.index(wanted[0])
        ways = [[turned[(at + s * k) % n] for k in range(n)] for s in (1, -1)]
        assert wanted in ways


@pytest.mark.parametrize("seed", range(6))
def test_no_path_over_few_holes_is_shorter(seed):
    start = Point(0.0, 0.0)
    holes = [Point(float(x), float(y)) for x, y in places(7, 40 + seed)]

    def length(order):
        way = [start, *(holes[k] for k in order)]
        return sum(hypot(b.x - a.x, b.y - a.y) for a, b in itertools.pairwise(way))

    path = drill_path(holes, start=start)
    assert sorted(path) == list(range(7))
    shortest = min(length(order) for order in itertools.permutations(range(7)))
    assert length(path) == pytest.approx(shortest)


def test_no_and_one_hole():
    assert drill_path([], start=Point(0, 0)) == ()
    assert drill_path([Point(3, 4)], start=Point(0, 0)) == (0,)
    same = [Point(5, 5)] * 9
    assert sorted(drill_path(same, start=Point(0, 0))) == list(range(9))
