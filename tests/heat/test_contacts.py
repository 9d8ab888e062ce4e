"""Housings side by side, against films of the ``ht`` library and the textbook's fin."""

import math
from itertools import pairwise

import ht
import numpy as np
import pytest
from scipy.constants import sigma
from scipy.optimize import fsolve

from platewright.heat.air import air_at, kelvin, rayleigh
from platewright.heat.contacts import film_across
from platewright.heat.panel_heat import settled, worked_out
from platewright.heat.surface import Bodies, Round, surfaces
from platewright.model.layout import Duct, Run

from .panels import panel_of

SEA = 101325.0
SIZE = (0.0082, 0.0615, 0.05)  # width, height, depth of a fuse terminal


def free_loss(hot, air, area_up, level_area, height, length):
    """Heat of upright and level faces at ``hot`` °C: films by ht, radiation to black surroundings."""
    mid = air_at(kelvin((hot + air) / 2), SEA)

    def ra(size):
        return rayleigh(mid, hot - air, size)

    up = ht.Nu_vertical_plate_Churchill(mid.prandtl, ra(height) / mid.prandtl)
    level = (0.54 + 0.27) * ra(length) ** 0.25  # McAdams, face up and face down
    film = mid.conductivity * (up / height * area_up + level / length * level_area)
    glow = 0.9 * sigma * (area_up + 2 * level_area) * (kelvin(hot) ** 4 - kelvin(air) ** 4)
    return film * (hot - air) + glow


def row(losses, across):
    """Equal terminals side by side, the row's ends open; film ``across`` in W/K between two."""
    n = len(losses)
    shut = np.zeros(n)
    left, right = shut.copy(), shut.copy()
    left[0] = right[-1] = 1.0
    width, height, depth = (np.full(n, each) for each in SIZE)
    air = np.full(n, 47.0)
    return surfaces(
        Bodies(
            width=width, height=height, depth=depth, loss=np.array(losses),
            plate_conduction=np.zeros(n), emissivity=np.full(n, 0.9), open_left=left,
            open_right=right, ends=np.array([(i, i + 1) for i in range(n - 1)], dtype=np.int64),
            across=np.full(n - 1, across),
        ),
        Round(air=air, walls=air, plate=air, pressure=SEA),
    )  # fmt: skip


def test_three_fuse_terminals_by_hand():
    """1.2 W each: the middle one was told 30 K warmer than its neighbours."""
    across = 0.08
    width, height, depth = SIZE
    level, length = width * depth, width * depth / (2 * (width + depth))
    front, side = width * height, height * depth

    def balance(hot):
        up = (front + side, front, front + side)
        out = [
            free_loss(t, 47.0, area, level, height, length) for t, area in zip(hot, up, strict=True)
        ]
        return (
            1.2 - out[0] - across * (hot[0] - hot[1]),
            1.2 - out[1] - across * (2 * hot[1] - hot[0] - hot[2]),
            1.2 - out[2] - across * (hot[2] - hot[1]),
        )

    by_hand = fsolve(balance, (70.0, 75.0, 70.0))
    found = row((1.2, 1.2, 1.2), across).temperature
    # ht's film is the all-range form of Churchill and Chu, ours the laminar one: some per cent apart
    np.testing.assert_allclose(found - 47.0, by_hand - 47.0, rtol=0.1)
    assert found[1] - found[0] < 10
    assert row((1.2, 1.2, 1.2), 0.0).temperature[1] - found[0] > 20


def test_heat_along_a_row_dies_away_as_in_a_fin():
    """Incropera & DeWitt, fins: cosh(m·x), here in steps: r + 1/r = 2 + g/G."""
    across = 0.08
    losses = [0.0] * 21
    losses[10] = 0.3
    found = row(losses, across)
    over = found.temperature - 47.0
    given = (found.convected + found.radiated) / over  # W/K that each gives off
    for i in (12, 13, 14):
        assert over[i - 1] + over[i + 1] == pytest.approx((2 + given[i] / across) * over[i], 1e-4)
    g = given[13] / across
    ratio = (2 + g - math.sqrt((2 + g) ** 2 - 4)) / 2
    assert over[13] / over[12] == pytest.approx(ratio, rel=0.03)
    assert float((found.convected + found.radiated).sum()) == pytest.approx(0.3, rel=1e-5)


def test_film_across_by_hand():
    """Air at 330 K 0.0285 W/(m·K) by the textbook's table, 1 mm of it; two walls of 2 mm plastic."""
    glow = 4 * sigma * 330**3 / (2 / 0.9 - 1)
    assert float(film_across(np.array(0.0))) == pytest.approx(
        1 / (1 / (0.0285 / 0.001 + glow) + 2 * 0.002 / 0.25), rel=0.02
    )


def terminals(places):
    parts = {f"-F{i}": (6.2, 90, 60, 0.6) for i in range(len(places))}
    return panel_of(parts, {f"-F{i}": (x, 300.0) for i, x in enumerate(places)})


def test_alike_devices_in_one_row_are_about_alike():
    """Places as a plan writes them: each edge some rounding of a sum off its neighbour's."""
    panel = terminals([40.0, 46.2, 52.4, 58.6, 64.8, 71.0, 77.2, 83.4, 89.6, 95.8, 102.0, 108.2])
    devices = worked_out(panel).devices
    hot = [devices[f"-F{i}"].surface.value for i in range(12)]
    assert max(abs(a - b) for a, b in pairwise(hot)) < 6  # the row's ends give heat off sideways
    exact = terminals([40.0 + 6.25 * i for i in range(12)])
    other = [one.surface.value for one in worked_out(exact).devices.values()]
    assert max(abs(a - b) for a, b in zip(sorted(hot), sorted(other), strict=True)) < 0.5


def test_heat_is_neither_made_nor_lost_between_housings():
    here = settled(terminals([40.0, 46.2, 52.4, 61.0, 72.0]))
    state = here.inside.surfaces
    out = state.convected + state.radiated + state.foot
    assert float(out.sum()) == pytest.approx(float(here.here.loss.sum()), rel=1e-4)
    assert float(np.abs(out - here.here.loss).max()) > 0.01  # some of it passed to neighbours


def test_a_tall_side_beside_a_small_thing_stays_open():
    parts = {"-A": (50, 120, 100, 20.0), "-B": (6.2, 30, 30, 0.0)}
    alone = worked_out(panel_of(parts, {"-A": (100, 300), "-B": (500, 300)}))
    beside = worked_out(panel_of(parts, {"-A": (100, 300), "-B": (150, 345)}))
    duct = {"D1": Duct(x=150, y=200, length=400, width=40, height=60, run=Run.UPRIGHT)}
    shut = worked_out(panel_of(parts, {"-A": (100, 300), "-B": (500, 300)}, ducts=duct))
    hot = [heat.devices["-A"].surface.value for heat in (alone, beside, shut)]
    assert abs(hot[1] - hot[0]) < 3 < hot[2] - hot[0]
