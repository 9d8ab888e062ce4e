"""The linear program as it reaches the solver: bounds on programs solved by hand."""

from __future__ import annotations

import math

import pytest

from platewright.arrange.solvers.program import Program


def _knapsack() -> Program:
    """Return: take most of worths 8, 11, 6, 4 with weights 5, 7, 4, 3 and room for 14.

    By hand: the last three weigh 14 and are worth 21; in real numbers 22 is reached.
    """
    program = Program()
    items = [program.variable(price=-worth, most=1.0, whole=True) for worth in (8, 11, 6, 4)]
    program.row(zip(items, (5.0, 7.0, 4.0, 3.0), strict=True), -math.inf, 14.0)
    return program


def test_optimum_in_whole_numbers_is_proven() -> None:
    assert _knapsack().lower_bound(1000) == pytest.approx(-21.0)


def test_bound_of_a_stopped_search_is_no_higher() -> None:
    bound = _knapsack().lower_bound(0)
    assert bound is None or bound <= -21.0 + 1e-9


def test_rows_that_cannot_all_hold_give_infinity() -> None:
    program = Program()
    x = program.variable(most=1.0, whole=True)
    program.row([(x, 2.0)], 1.0, 1.0)
    assert program.lower_bound(100) == math.inf


def test_nothing_is_printed(capfd: pytest.CaptureFixture[str]) -> None:
    _knapsack().lower_bound(100)
    assert capfd.readouterr().out == ""
