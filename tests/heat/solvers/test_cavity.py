"""The square cavity against the published solution, on grids small enough for every run.

Published: G. de Vahl Davis 1983, read from ``bench/data/cavity_published.csv``. Finer grids and
higher Rayleigh numbers: ``bench/bench_heat_deep.py``.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from platewright.heat.solvers.cavity import extrapolated, hot_side_nusselt, square_cavity

DATA = Path(__file__).parents[3] / "bench" / "data" / "cavity_published.csv"


@pytest.fixture(scope="module")
def published():
    with DATA.open(newline="", encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["case"] == "square"]
    return {float(row["rayleigh"]): row for row in rows}


@pytest.mark.parametrize(("rayleigh", "allowed"), [(1e3, 0.005), (1e4, 0.02)])
def test_heat_and_speeds_on_32_cells(published, rayleigh, allowed):
    result, _ = square_cavity(rayleigh, cells=32)
    expected = published[rayleigh]
    assert result.settled
    assert result.nusselt == pytest.approx(float(expected["nusselt"]), rel=allowed)
    assert result.across == pytest.approx(float(expected["across_max"]), rel=0.01)
    assert result.upward == pytest.approx(float(expected["upward_max"]), rel=0.01)


def test_heat_at_1e5_on_64_cells(published):
    result, _ = square_cavity(1e5, cells=64)
    assert result.nusselt == pytest.approx(float(published[1e5]["nusselt"]), rel=0.02)


def test_heat_converges_at_second_order_to_the_published_value(published):
    found = [square_cavity(1e3, cells=n, rest=1e-4)[0].nusselt for n in (8, 16, 32)]
    order = np.log2((found[0] - found[1]) / (found[1] - found[2]))
    assert 1.5 < order < 2.6
    limit = extrapolated(found[1], found[2], 2.0)
    assert limit == pytest.approx(float(published[1e3]["nusselt"]), rel=0.005)


def test_slope_is_exact_for_a_parabola():
    n = 10
    x = (np.arange(n) + 0.5) / n
    warmth = np.repeat((1 - 2 * x + 3 * x**2)[:, None, None], n, axis=2)
    assert hot_side_nusselt(warmth) == pytest.approx(2.0, abs=1e-12)


def test_extrapolation_is_exact_for_a_second_order_error():
    assert extrapolated(5 + 3 / 32**2, 5 + 3 / 64**2, 2.0) == pytest.approx(5.0, abs=1e-12)
