"""Conduction in the plate against exact solutions."""

from itertools import pairwise

import numpy as np
import pytest
from scipy.special import i1, k0

from platewright.heat.plate import Sheet, plate_temperature

SHEET = Sheet(width=1.2, height=1.2, spread=50 * 0.0025, film=12.0)


def test_a_round_hot_spot_falls_off_as_bessel_says():
    # uniform flux on a disc of an endless plate: outside it T = (q·r0/(k·t·m))·I1(m·r0)·K0(m·r)
    cells, radius = 240, 0.05
    at = (np.arange(cells) + 0.5) * 1.2 / cells - 0.6
    away = np.hypot(at[:, None], at[None, :])
    heat = np.where(away < radius, 1000.0, 0.0)
    heat *= 1000.0 * np.pi * radius**2 / (heat.sum() * (1.2 / cells) ** 2)
    found = plate_temperature(SHEET, np.zeros_like(heat), heat)
    m = np.sqrt(SHEET.film / SHEET.spread)
    for far in (0.08, 0.12, 0.2):
        exact = 1000 * radius / (SHEET.spread * m) * i1(m * radius) * k0(m * far)
        ring = np.abs(away - far) < 0.004
        assert found[ring].mean() == pytest.approx(exact, rel=0.03)


def test_heat_in_is_heat_out():
    chance = np.random.default_rng(1)
    heat, air = chance.uniform(0, 900, (40, 30)), chance.uniform(20, 60, (40, 30))
    found = plate_temperature(SHEET, air, heat)
    assert (SHEET.film * (found - air)).sum() == pytest.approx(heat.sum(), rel=1e-9)


def test_a_plate_without_heat_lies_between_its_air():
    air = np.linspace(30, 50, 40)[:, None] * np.ones((1, 30))
    found = plate_temperature(SHEET, air, np.zeros_like(air))
    assert found.min() >= 30
    assert found.max() <= 50


def error_of(cells):
    """First cell of a strip heated at its end, against the exact fin."""
    length, spread = 0.3, 0.125
    sheet = Sheet(width=length, height=1.0, spread=spread, film=10.0)
    heat = np.zeros((1, cells))
    heat[0, 0] = 100 / (length / cells)
    first = plate_temperature(sheet, np.zeros((1, cells)), heat)[0, 0]
    m = np.sqrt(10.0 / spread)
    middle = length / cells / 2
    exact = 100 / (spread * m) * np.cosh(m * (length - middle)) / np.sinh(m * length)
    return abs(first - exact)


def test_finer_cells_converge_at_second_order():
    errors = [error_of(cells) for cells in (30, 60, 120, 240)]
    orders = [np.log2(a / b) for a, b in pairwise(errors)]
    assert all(1.8 <= order <= 2.5 for order in orders), orders
