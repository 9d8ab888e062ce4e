"""The measured tall cavity on few cells; the run that is compared is in bench/bench_heat_deep.py."""

import csv
from pathlib import Path

import numpy as np
import pytest

from platewright.heat.solvers.tall_cavity import COLD, HOT, WIDTH, TallCavityResult, tall_cavity

DATA = Path(__file__).parents[3] / "bench" / "data" / "tall_cavity_measured.csv"


@pytest.fixture(scope="module")
def flat():
    return tall_cavity((16, 1, 40), depth=1.0, seconds=12.0, averaged=4.0)


def test_temperatures_lie_between_the_sides(flat):
    assert flat.profile.min() > COLD - 0.5
    assert flat.profile.max() < HOT + 0.5


def test_air_is_layered_and_carries_more_than_still_air(flat):
    assert flat.at(WIDTH / 2, 0.9) > flat.at(WIDTH / 2, 0.1) + 3.0
    assert flat.nusselt > 1.5


def test_core_at_half_height_is_within_a_kelvin_of_the_measured(flat):
    """Betts and Bokhari 2000, 38.17 mm from the cold side at half height."""
    with DATA.open(newline="", encoding="utf-8") as file:
        air = {(r["height_share"], r["across_mm"]): r for r in csv.DictReader(file)}
    measured = float(air["0.50", "38.17"]["temperature_degc"])
    assert flat.at(0.03817, 0.5) == pytest.approx(measured, abs=1.0)


def test_half_a_turn_leaves_the_flow_as_it_is(flat):
    turned = HOT + COLD - flat.profile[::-1, ::-1]
    assert np.abs(flat.profile - turned).mean() < 0.6  # the ripples of the start differ


def test_reading_between_cells_is_linear():
    x, y = (np.arange(8) + 0.5) / 8, (np.arange(6) + 0.5) / 6
    linear = 10 + 5 * x[:, None] + 3 * y[None, :]
    result = TallCavityResult(cells=(8, 1, 6), profile=linear, nusselt=1.0, local_nusselt=1.0)
    assert result.at(0.3 * WIDTH, 0.4) == pytest.approx(10 + 1.5 + 1.2)
