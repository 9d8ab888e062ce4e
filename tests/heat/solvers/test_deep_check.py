"""Deep check: its laws, its balance, its stop. Small boxes on coarse cells, to be quick."""

from dataclasses import replace

import numpy as np
import pytest

from platewright.heat.air import SEA_LEVEL, air_at
from platewright.heat.solvers.cabinet import FlowBlock, FlowCabinet, FlowWalls
from platewright.heat.solvers.deep_check import deep_check
from platewright.model.geometry import Box

HOT = FlowBlock(tag="-T1", box=Box(120.0, 80.0, 180.0, 180.0), depth=80.0, heat=15.0)
OVER = FlowBlock(tag="-F1", box=Box(120.0, 300.0, 180.0, 380.0), depth=60.0)
ASIDE = FlowBlock(tag="-F2", box=Box(320.0, 300.0, 380.0, 380.0), depth=60.0)
DUCT = FlowBlock(tag="duct", box=Box(0.0, 220.0, 240.0, 260.0), depth=80.0, is_device=False)


def box(*blocks, u=3.5):
    return FlowCabinet(
        inside=Box(0.0, 0.0, 400.0, 480.0),
        depth=160.0,
        ambient=35.0,
        walls=FlowWalls(left=u, right=u, floor=u, roof=u, door=u),
        air=air_at(320.0, SEA_LEVEL),
        blocks=blocks,
    )


def go_on(*_):
    return True


def run(cabinet, *, seconds=12.0, report=go_on):
    return deep_check(cabinet, cell=40.0, seconds=seconds, report=report)


@pytest.fixture(scope="module")
def plain():
    return run(box(HOT, OVER, ASIDE))


def test_heat_balance_closes(plain):
    assert plain.residual < 1e-9
    assert plain.wall_heat + plain.stored == pytest.approx(15.0, rel=1e-9)
    assert plain.finished
    assert plain.averaged == pytest.approx(4.8, abs=0.06)


def test_mean_air_is_near_what_the_walls_let_out_at_one_temperature(plain):
    lumped = 15.0 / box(HOT).conductance
    assert plain.mean_air - 35.0 == pytest.approx(lumped, rel=0.35)


def test_same_cabinet_same_bytes(plain):
    again = run(box(HOT, OVER, ASIDE))
    assert again.temperature.tobytes() == plain.temperature.tobytes()
    assert dict(again.inlet) == dict(plain.inlet)


def test_air_is_warmer_above_the_hot_device_and_under_the_roof(plain):
    assert plain.inlet["-F1"] > plain.inlet["-F2"] + 2.0
    levels = np.nanmean(plain.front(), axis=0)
    assert levels[-1] > levels[0] + 5.0


def test_no_air_is_colder_than_outside(plain):
    assert np.nanmin(plain.temperature) > 35.0 - 0.05


def test_more_heat_never_cools(plain):
    hotter = run(box(replace(HOT, heat=22.0), OVER, ASIDE))
    assert hotter.mean_air > plain.mean_air
    for tag, before in plain.inlet.items():
        assert hotter.inlet[tag] > before, tag


def test_no_heat_leaves_air_at_ambient():
    field = run(box(replace(HOT, heat=0.0), OVER), seconds=2.0)
    assert field.mean_air == pytest.approx(35.0, abs=1e-9)
    assert field.residual == 0.0


def test_better_walls_cool(plain):
    cooler = run(box(HOT, OVER, ASIDE, u=6.0))
    assert cooler.mean_air < plain.mean_air


def test_duct_across_shields_the_device_above_it(plain):
    shielded = run(box(HOT, OVER, ASIDE, DUCT))
    assert shielded.inlet["-F1"] < plain.inlet["-F1"]
    assert "duct" not in shielded.inlet
    solid = np.isnan(shielded.temperature[:6, :2, 6])
    assert solid.all()


def test_mirrored_cabinet_gives_the_mirrored_field():
    def mirrored(block):
        b = block.box
        return replace(block, box=Box(400.0 - b.right, b.bottom, 400.0 - b.left, b.top))

    # edges on the first, coarse cells: halves would be rounded to one side
    hot = replace(HOT, box=Box(80.0, 80.0, 160.0, 160.0))
    over = replace(OVER, box=Box(80.0, 320.0, 160.0, 400.0), heat=2.0)
    blocks = (hot, over)
    one = run(box(*blocks), seconds=3.0)
    other = run(box(*map(mirrored, blocks)), seconds=3.0)
    assert np.allclose(one.temperature, other.temperature[::-1], atol=1e-6, equal_nan=True)


def test_stop_keeps_the_best_so_far(plain):
    told = []

    def stop(share, words):
        told.append((share, words))
        return len(told) < 3

    cabinet = box(HOT, OVER, ASIDE)
    field = run(cabinet, report=stop)
    assert not field.finished
    assert len(told) == 3
    assert told[0][0] < told[1][0] < told[2][0] < 1.0
    assert field.averaged == 0
    assert field.seconds < 12.0
    assert 35.0 < field.mean_air < 35.0 + 2 * (plain.mean_air - 35.0)


def test_stop_late_keeps_the_fine_cells(plain):
    field = run(box(HOT, OVER, ASIDE), report=lambda share, _: share < 0.9)
    assert not field.finished
    assert field.cell == plain.cell
    assert 0 < field.averaged < plain.averaged
    assert field.mean_air == pytest.approx(plain.mean_air, abs=1.0)
    assert field.residual < 1e-9


def test_settled_within_a_few_hundredths(plain):
    assert abs(plain.stored) < 0.05 * plain.heat


def test_pictures_have_the_size_of_the_grid(plain):
    assert plain.front().shape == (10, 12)
    assert plain.side().shape == (4, 12)
    assert plain.cell == pytest.approx((40.0, 40.0, 40.0))
