"""Labels moved apart: against a general quadratic solver, and by their laws."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize

from platewright.drawing.spread import spread

places = st.lists(st.floats(-500, 500), min_size=1, max_size=12).map(sorted)


@given(places, st.floats(0.1, 50))
def test_labels_are_apart_and_in_order(wanted, gap):
    result = spread(wanted, gap)
    assert len(result) == len(wanted)
    assert all(b - a >= gap - 1e-6 for a, b in pairwise(result))


def test_labels_that_are_apart_do_not_move():
    assert spread((0, 10, 25), 10) == (0, 10, 25)


def test_three_on_one_spot_stand_evenly_about_it():
    assert spread((5, 5, 5), 2) == pytest.approx((3, 5, 7))


def test_bounds_hold():
    assert spread((0, 0, 0), 2, low=0, high=10) == pytest.approx((0, 2, 4))
    assert spread((10, 10), 3, low=0, high=10) == pytest.approx((7, 10))


def test_too_many_for_the_bounds_stand_evenly_closer():
    assert spread((5, 5, 5), 10, low=0, high=10) == pytest.approx((0, 5, 10))


def test_one_label_in_less_room_than_it_needs_stands_in_the_middle_of_it():
    assert spread((5,), 10, low=4, high=2) == (3,)
    assert spread((5, 6), 10, low=4, high=2) == (3, 3)


@given(places, st.lists(st.floats(0.1, 50), min_size=12, max_size=12))
def test_labels_of_different_sizes_do_not_overlap(wanted, rooms):
    rooms = rooms[: len(wanted)]
    result = spread(wanted, rooms)
    edges = [(at - room / 2, at + room / 2) for at, room in zip(result, rooms, strict=True)]
    assert all(low >= high - 1e-6 for (_, high), (low, _) in pairwise(edges))


def test_nothing_to_spread():
    assert spread((), 3) == ()


def test_moves_are_the_least_squares_of_a_general_solver():
    # outside truth: scipy's SLSQP on the same convex quadratic problem
    wanted = np.array([0.0, 1.0, 1.5, 8.0, 8.1, 30.0])
    gap = 2.5
    apart = [
        {"type": "ineq", "fun": lambda x, i=i: x[i + 1] - x[i] - gap}
        for i in range(len(wanted) - 1)
    ]
    start = np.arange(len(wanted)) * 6.0
    best = minimize(lambda x: ((x - wanted) ** 2).sum(), start, constraints=apart, method="SLSQP")
    assert best.success
    assert spread(tuple(wanted), gap) == pytest.approx(tuple(best.x), abs=1e-3)


def test_moves_of_labels_of_different_sizes_are_the_least_squares_too():
    # outside truth: the same solver, with a room for each label, between bounds
    wanted = np.array([0.0, 1.0, 1.5, 8.0, 8.1, 30.0])
    rooms = [1.0, 6.0, 2.0, 3.0, 8.0, 1.0]
    apart = [
        {"type": "ineq", "fun": lambda x, i=i: x[i + 1] - x[i] - (rooms[i] + rooms[i + 1]) / 2}
        for i in range(len(wanted) - 1)
    ]
    best = minimize(
        lambda x: ((x - wanted) ** 2).sum(),
        np.arange(len(wanted)) * 6.0,
        constraints=apart,
        bounds=[(-1.0, 20.0)] * len(wanted),
        method="SLSQP",
    )
    assert best.success
    found = spread(tuple(wanted), rooms, low=-1.0, high=20.0)
    assert found == pytest.approx(tuple(best.x), abs=1e-3)
