"""The row-order engine against values known without it, and against every order there is."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest

from platewright.arrange.kernels import row_order as kernel
from platewright.arrange.solvers.row_order import order_row, proven_row_order, row_length
from row_order_values import ANALYTIC, Known


def _random(n: int, seed: int) -> tuple[np.ndarray, np.ndarray]:
    rng = np.random.default_rng(seed)
    wires = np.triu(rng.integers(0, 5, (n, n)), 1).astype(float)
    return rng.integers(1, 40, n) / 2, wires + wires.T


def _by_hand(order: tuple[int, ...], widths: np.ndarray, wires: np.ndarray) -> float:
    """Measure an order the plain way: centres first, then every pair."""
    left = np.cumsum([0.0, *widths[list(order)]])
    centre = {b: left[k] + widths[b] / 2 for k, b in enumerate(order)}
    return sum(
        wires[a, b] * abs(centre[a] - centre[b]) for a in order for b in order if a < b
    )  # fmt: skip


@pytest.mark.parametrize("known", ANALYTIC, ids=lambda k: k.name)
def test_search_reaches_the_analytic_values(known: Known) -> None:
    found = order_row(known.widths, known.wires)
    assert found.length == pytest.approx(known.value, abs=1e-9)
    assert _by_hand(found.order, known.widths, known.wires) == pytest.approx(known.value)
    assert not found.is_proven


@pytest.mark.parametrize(
    "known", [k for k in ANALYTIC if len(k.widths) <= 16], ids=lambda k: k.name
)
def test_table_proves_the_analytic_values(known: Known) -> None:
    found = proven_row_order(known.widths, known.wires)
    assert found.length == pytest.approx(known.value, abs=1e-9)
    assert sorted(found.order) == list(range(len(known.widths)))


@pytest.mark.parametrize("n", range(1, 8))
def test_table_is_the_best_of_all_orders(n: int) -> None:
    for seed in range(4):
        widths, wires = _random(n, seed)
        best = min(_by_hand(p, widths, wires) for p in permutations(range(n)))
        found = proven_row_order(widths, wires)
        assert found.length == pytest.approx(best, abs=1e-9)
        assert _by_hand(found.order, widths, wires) == pytest.approx(best, abs=1e-9)


@pytest.mark.parametrize("n", [9, 12, 15])
def test_search_finds_what_the_table_proves(n: int) -> None:
    for seed in range(3):
        widths, wires = _random(n, seed)
        proven = proven_row_order(widths, wires)
        assert order_row(widths, wires, kicks=400).length == pytest.approx(proven.length)


def test_same_seed_same_order() -> None:
    widths, wires = _random(20, 7)
    assert order_row(widths, wires, seed=3) == order_row(widths, wires, seed=3)


def test_gain_rule_is_the_difference_of_lengths() -> None:
    widths, wires = _random(9, 5)
    order = np.random.default_rng(1).permutation(9).astype(np.int64)
    left = np.array([sum(wires[b, a] for a in order[:k]) for k, b in enumerate(order)])
    left = left[np.argsort(order)]
    for i in range(9):
        gain, j = kernel._best_place(order, i, widths, wires, left, wires.sum(axis=1))
        before = row_length(tuple(order), widths, wires)
        best = before
        for to in range(9):
            rest = [b for b in order if b != order[i]]
            rest.insert(to, order[i])
            best = min(best, _by_hand(tuple(rest), widths, wires))
        assert before - gain == pytest.approx(best)
        moved = order.copy()
        kernel._move(moved, i, j, wires, left.copy())
        assert _by_hand(tuple(moved), widths, wires) == pytest.approx(best)


def test_wires_that_differ_by_direction_are_refused() -> None:
    with pytest.raises(ValueError, match="the same number"):
        order_row(np.ones(2), np.array([[0.0, 1.0], [2.0, 0.0]]))


def test_too_many_devices_to_prove_are_refused() -> None:
    with pytest.raises(ValueError, match="25 is the most"):
        proven_row_order(np.ones(26), np.zeros((26, 26)))
