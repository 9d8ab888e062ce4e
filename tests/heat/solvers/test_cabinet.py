"""Blocks, sources and walls laid on cells."""

import numpy as np
import pytest

from platewright.heat.air import SEA_LEVEL, air_at
from platewright.heat.solvers.cabinet import (
    FlowBlock,
    FlowCabinet,
    FlowWalls,
    grid_of,
    problem_of,
    shares,
)
from platewright.model.geometry import Box


def cabinet(*blocks, depth=120.0, u=3.5):
    return FlowCabinet(
        inside=Box(-10.0, -20.0, 290.0, 380.0),
        depth=depth,
        ambient=35.0,
        walls=FlowWalls(left=u, right=u, floor=u, roof=u, door=u),
        air=air_at(320.0, SEA_LEVEL),
        blocks=blocks,
    )


def block(left, bottom, right, top, *, depth=60.0, heat=0.0, tag="-A1", is_device=True):
    return FlowBlock(
        tag=tag, box=Box(left, bottom, right, top), depth=depth, heat=heat, is_device=is_device
    )


def test_cells_fill_the_space():
    grid = grid_of(cabinet(), 20.0)
    assert grid.cells == (15, 6, 20)
    assert grid.steps == pytest.approx((0.02, 0.02, 0.02))
    assert grid.volume == pytest.approx(8e-6)
    assert grid.face(1) == pytest.approx(4e-4)


def test_cells_may_be_narrower_across():
    grid = grid_of(cabinet(), 20.0, 10.0)
    assert grid.cells == (30, 6, 20)


def test_block_fills_the_cells_it_lies_in_counted_from_the_inside_edge():
    space = cabinet(block(30, 60, 90, 160))
    solid = problem_of(space, 20.0).air == 0
    assert solid[2:5, 0:3, 4:9].all()
    assert solid.sum() == 3 * 3 * 5


@pytest.mark.parametrize("cell", [8.0, 12.5, 16.0, 20.0])
def test_a_row_of_blocks_keeps_its_volume_on_any_cells(cell):
    widths = (6, 12, 18, 45, 6, 6, 18, 12, 45, 6)
    row, left = [], 20.0
    for i, width in enumerate(widths):
        row.append(block(left, 60, left + width, 160, tag=str(i), depth=60.0))
        left += width
    problem = problem_of(cabinet(*row), cell)
    kept = float((problem.air == 0).sum()) * problem.grid.volume
    assert kept == pytest.approx(sum(widths) * 100 * 60 * 1e-9, rel=0.25)


def test_what_is_thinner_than_half_a_cell_is_no_obstacle_but_warms_the_air_round_it():
    problem = problem_of(cabinet(block(35, 60, 41, 160, heat=3.0)), 20.0)
    assert problem.air.all()
    warmed = np.flatnonzero(problem.heating.sum(axis=(1, 2)))
    assert set(warmed) <= {1, 2, 3}
    assert problem.heating.sum() > 0


def test_block_beyond_the_edge_is_held_inside():
    solid = problem_of(cabinet(block(-30, 370, 10, 420)), 20.0).air == 0
    assert solid[0, 0, 19]
    assert solid.sum() == 3


def test_shares_of_cells():
    grid = grid_of(cabinet(), 20.0)
    assert shares(30.0, 70.0, 0, grid)[:5] == pytest.approx([0, 0.5, 1, 0.5, 0])


@pytest.mark.parametrize("cell", [10.0, 20.0, 33.0])
def test_all_heat_reaches_the_air(cell):
    hot = block(50, 50, 110, 150, heat=12.0)
    beside = block(110, 50, 160, 150, heat=5.0, tag="-A2")
    tight = block(120, 150, 124, 330, heat=1.5, tag="-A3", depth=5.0)
    space = cabinet(hot, beside, tight)
    problem = problem_of(space, cell)
    given = problem.heating.sum() * problem.grid.volume * space.air.heat_per_volume
    assert given == pytest.approx(18.5, rel=1e-12)
    assert not problem.heating[problem.air == 0].any()


def test_heat_is_not_put_where_air_cannot_rise():
    hot = block(50, 60, 110, 160, heat=12.0)
    lid = block(30, 180, 130, 220, tag="duct", is_device=False)
    problem = problem_of(cabinet(hot, lid), 20.0)
    assert problem.air[4, 0, 9] == 1
    assert problem.heating[4, 0, 9] == 0
    assert problem.heating[4, 3, 6] > 0


def test_device_filling_the_depth_still_gives_off_its_heat():
    whole = block(-10, 60, 290, 160, depth=120.0, heat=9.0)
    problem = problem_of(cabinet(whole), 20.0)
    assert problem.heating.sum() > 0


def test_shut_pocket_counts_as_solid():
    ring = [
        block(50, 50, 150, 70, depth=120, tag="a"),
        block(50, 130, 150, 150, depth=120, tag="b"),
        block(50, 50, 70, 150, depth=120, tag="c"),
        block(130, 50, 150, 150, depth=120, tag="d"),
    ]
    assert not problem_of(cabinet(*ring), 20.0).air[5, :, 6].any()


def test_conductance_adds_all_walls():
    assert cabinet(u=2.0).conductance == pytest.approx(
        2.0 * (2 * 0.4 * 0.12 + 2 * 0.3 * 0.12 + 0.3 * 0.4)
    )


def test_problem_has_no_hidden_chance():
    first, second = (problem_of(cabinet(block(50, 60, 110, 160, heat=3.0)), 20.0) for _ in "ab")
    assert np.array_equal(first.heating, second.heating)


def test_cabinet_without_air_is_refused():
    with pytest.raises(ValueError, match="no air"):
        problem_of(cabinet(block(-10, -20, 290, 380, depth=120.0)), 20.0)


def test_cells_of_no_size_are_refused():
    with pytest.raises(ValueError, match="above 0"):
        problem_of(cabinet(), 0.0)
