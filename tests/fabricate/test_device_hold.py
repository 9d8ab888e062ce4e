"""Screws of devices: statics and a friction joint, worked by hand.

F ≥ F axial + F across / μ is the condition of a joint held by friction in books on machine
elements (bolted joints under combined load); loads are the table's: 3 g, 50 N, μ 0.15.
"""

from dataclasses import replace

import pytest

from platewright.fabricate.device_hold import device_hold, needed_clamp
from platewright.fabricate.fastening import fastenings
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.model.layout import Layout, Placement


def test_fourteen_kilograms_by_hand():
    """W = 3 · 14 · 9.807 = 411.9 N, 66 mm out, screws 110 mm up, two of four above.

    411.9 · 66 / 110 / 2 = 123.6; 50 / 4 = 12.5; 411.9 / 4 / 0.15 = 686.5; together 822.5 N.
    """
    assert needed_clamp(14, depth=132, lever=110, screws=4, upper=2) == pytest.approx(
        822.5, abs=0.1
    )


def test_moments_about_the_lower_edge_balance():
    light = needed_clamp(0, depth=200, lever=90, screws=3, upper=1)
    assert light == pytest.approx(50 / 3)  # the pull alone
    heavy = needed_clamp(10, depth=200, lever=90, screws=3, upper=1)
    weight = 3 * 10 * 9.80665
    pulls = heavy - light - weight / 3 / 0.15
    assert pulls * 90 == pytest.approx(weight * 100)


@pytest.mark.parametrize("change", [{"depth": 260}, {"lever": 50}, {"screws": 2}, {"upper": 1}])
def test_deeper_lower_and_fewer_is_never_better(change):
    given = {"depth": 132, "lever": 110, "screws": 4, "upper": 2}
    assert needed_clamp(14, **(given | change)) > needed_clamp(14, **given)


def held(make_job, **changes):
    """The drive: 200 × 100, 150 deep, four M5, upper ones 190 above its lower edge."""
    job = make_job({"-U1": "drive"})
    parts = {**job.parts, "drive": replace(job.parts["drive"], **changes)}
    job = replace(job, parts=parts)
    layout = place_holes(job, Layout(devices={"-U1": Placement(x=100, y=100)}))
    return job, layout, list(layout.holes.values())


def test_clamping_force_is_that_of_the_torque(make_job):
    """M5 at 2.5 N·m with K 0.2: 2.5 / (0.2 · 0.005) = 2500 N each."""
    found = device_hold(*held(make_job, mass=10)[:2], "-U1", held(make_job, mass=10)[2])
    weight = 3 * 10 * 9.80665
    assert found.clamped == pytest.approx(2500)
    assert found.needed == pytest.approx(weight * 75 / 190 / 2 + 12.5 + weight / 4 / 0.15)
    assert found.holds
    assert found.fewest == 2


def test_too_heavy_for_its_screws(make_job):
    job, layout, holes = held(make_job, mass=60)
    found = device_hold(job, layout, "-U1", holes)
    assert not found.holds
    # 1765 N of shock; five, two above: 348 + 10 + 2354 N; six, three above: 232 + 8 + 1961 N
    assert found.fewest == 6
    assert "they do NOT hold: 2500 N clamped each" in fastenings(job, layout)["-U1"].reason


def test_not_stated_is_open(make_job):
    job, layout, holes = held(make_job, mass=None)
    assert device_hold(job, layout, "-U1", holes) is None
    assert "whether they hold is open" in fastenings(job, layout)["-U1"].reason
