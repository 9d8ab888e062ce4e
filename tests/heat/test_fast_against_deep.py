"""The fast model held against the deep check on the layouts that it was not fitted to."""

import importlib.util
import sys
from pathlib import Path

import numpy as np
import pytest

from platewright.heat.local_air import Constants
from platewright.heat.panel_heat import worked_out
from platewright.tables.heat_practice import taken

from .panels import rows

BENCH = Path(__file__).parents[2] / "bench"


@pytest.fixture(scope="module")
def fast_heat():
    """Return the module of the bench that reads the stored answers."""
    spec = importlib.util.spec_from_file_location("fast_heat", BENCH / "fast_heat.py")
    module = importlib.util.module_from_spec(spec)
    sys.modules["fast_heat"] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def held(fast_heat):
    return [case for case in fast_heat.cases() if not case.is_fitting]


@pytest.fixture(scope="module")
def errors(fast_heat, held):
    return fast_heat.errors_of(held, Constants.from_table())


def test_twelve_layouts_and_more_were_held_out_with_ducts_and_wide_devices(held):
    assert len(held) >= 12
    assert sum(case.bars.left.size > 0 for case in held) >= 10
    assert sum(case.sources.width.max() >= 0.1 for case in held) >= 6


def test_spread_and_bias_are_within_the_aim(fast_heat, errors):
    found = fast_heat.agreement(errors)
    assert found.rms <= 4.0
    assert abs(found.bias) < 1.5


def test_the_least_band_covers_all_but_three_in_a_hundred_on_the_cool_side(errors):
    assert np.mean(errors < -taken("air band least")) <= 0.03


def test_what_is_told_of_the_model_is_what_was_measured(fast_heat, errors):
    found = fast_heat.agreement(errors)
    assert found.rms == pytest.approx(taken("fast model rms"), abs=0.05)
    assert found.unsafe == pytest.approx(taken("fast model unsafe"), abs=0.005)
    told = " ".join(worked_out(rows()).cautions)
    assert f"{found.rms:.1f} K rms" in told
    assert f"{found.unsafe:.0%} of the devices" in told


def test_what_two_sizes_of_cells_differ_by_is_far_below_the_band(held):
    unsure = np.concatenate([case.unsure for case in held])
    known = unsure[~np.isnan(unsure)]
    assert known.size
    assert np.sqrt(np.mean(known**2)) < taken("air band least") / 2


def test_figures_of_errors(fast_heat):
    found = fast_heat.agreement(np.array([-6.0, 2.0, 4.0, 0.0]))
    assert found.devices == 4
    assert found.bias == 0.0
    assert found.unsafe == 0.25
    assert found.worst == -6.0
    assert found.rms == pytest.approx(np.sqrt(14.0))
