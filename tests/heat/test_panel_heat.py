"""Laws of the whole: no number here is a measurement."""

import dataclasses
from itertools import pairwise

import numpy as np
import pytest

from platewright.heat.losses import losses_of
from platewright.heat.panel_heat import heat_of, worked_out
from platewright.model.device import Place
from platewright.model.wire import SizeSystem, Wire, WireSize
from platewright.tables.heat_practice import taken

from .panels import hotter, mirrored, panel_of, rows

PANEL = rows()
HEAT = worked_out(PANEL)


def test_balance_closes():
    level = HEAT.level
    out = sum(wall.heat for wall in level.walls) + level.carried + level.cooled
    assert out == pytest.approx(HEAT.losses.total, rel=1e-3)
    assert abs(level.missing) <= 1e-3 * HEAT.losses.total


def test_no_housing_is_cooler_than_all_round_it():
    for device in HEAT.devices.values():
        assert device.surface.value >= min(device.air.value, HEAT.level.inside.value)


def test_same_input_gives_the_same_bytes():
    again = worked_out(PANEL)
    assert again.devices == HEAT.devices
    assert again.facings == HEAT.facings
    assert again.front.values.tobytes() == HEAT.front.values.tobytes()


def test_it_is_worked_out_once_a_panel():
    assert heat_of(PANEL) is heat_of(PANEL)
    assert heat_of(rows(seed=2)).devices != HEAT.devices


def test_no_heat_is_the_air_outside():
    cold = worked_out(hotter(PANEL, 0.0))
    assert cold.level.inside.value == pytest.approx(25.0, abs=1e-6)
    for device in cold.devices.values():
        assert device.air.value == pytest.approx(25.0, abs=1e-3)
        assert device.surface.value == pytest.approx(25.0, abs=1e-3)
    assert float(cold.front.values.max()) == pytest.approx(25.0, abs=1e-3)
    assert cold.facings == ()


def test_a_mirrored_plate_has_a_mirrored_field():
    other = worked_out(mirrored(PANEL))
    for tag, device in HEAT.devices.items():
        assert other.devices[tag].air.value == pytest.approx(device.air.value, abs=1e-6)
        assert other.devices[tag].surface.value == pytest.approx(device.surface.value, abs=1e-6)
    np.testing.assert_allclose(other.front.values[:, ::-1], HEAT.front.values, atol=2e-3)


@pytest.mark.parametrize("factor", [1.2, 2.0])
def test_more_heat_everywhere_cools_nothing(factor):
    warm = worked_out(hotter(PANEL, factor))
    assert warm.level.inside.value > HEAT.level.inside.value
    for tag, device in HEAT.devices.items():
        assert warm.devices[tag].air.value >= device.air.value
        assert warm.devices[tag].surface.value >= device.surface.value


@pytest.mark.parametrize("tag", ["-K0", "-K11", "-K23"])
def test_more_heat_of_one_never_cools_it_nor_what_stands_over_it(tag):
    warm = worked_out(hotter(PANEL, 1.5, {tag}))
    foot = HEAT.devices[tag].box.bottom
    assert warm.level.inside.value > HEAT.level.inside.value
    assert warm.devices[tag].surface.value > HEAT.devices[tag].surface.value
    for other, device in HEAT.devices.items():
        if device.box.bottom > foot:
            assert warm.devices[other].air.value >= device.air.value - 1e-6


def test_nothing_below_means_core_air_alone():
    alone = {"-A": (90, 115, 90, 60.0), "-B": (18, 90, 70, 0.0)}
    beside = worked_out(panel_of(alone, {"-A": (100, 300), "-B": (600, 300)}))
    over = worked_out(panel_of(alone, {"-A": (100, 300), "-B": (136, 600)}))
    far = worked_out(panel_of(alone, {"-A": (100, 300), "-B": (600, 600)}))
    assert beside.devices["-B"].air.value < over.devices["-B"].air.value
    assert far.devices["-B"].air.value < over.devices["-B"].air.value


def test_moving_out_of_a_wake_never_heats():
    parts = {"-A": (90, 115, 90, 60.0), "-B": (18, 90, 70, 0.1)}
    airs = [
        worked_out(panel_of(parts, {"-A": (300, 200), "-B": (x, 500)})).devices["-B"].air.value
        for x in range(336, 700, 20)
    ]
    assert all(a >= b - 1e-6 for a, b in pairwise(airs))


def test_dragging_makes_no_steps():
    parts = {"-A": (90, 115, 90, 60.0), "-B": (45, 90, 70, 5.0)}

    def air(y):
        here = worked_out(panel_of(parts, {"-A": (300, 200), "-B": (300, y)}))
        return here.devices["-B"].air.value

    airs = [air(y) for y in range(400, 520, 2)]
    assert max(abs(a - b) for a, b in pairwise(airs)) < 2.0


def test_more_fan_is_never_warmer():
    airs = [worked_out(rows(fan=flow)).level.inside.value for flow in (0.0, 20.0, 80.0, 300.0)]
    assert airs == sorted(airs, reverse=True)
    assert airs[-1] > 25.0


def test_a_cooling_unit_holds_the_band_at_what_is_wanted_and_no_colder():
    held = worked_out(rows(cooling=5000.0)).level
    assert held.inside.high == pytest.approx(45.0, abs=0.01)
    assert held.by_walls == pytest.approx(25.0 + 20.0 / 1.15, abs=0.01)
    assert 0 < held.cooled < HEAT.losses.total
    weak = worked_out(rows(cooling=20.0)).level
    assert weak.cooled == 20.0
    assert 45.0 < weak.by_walls < HEAT.level.by_walls


def test_power_law_is_silent_where_it_does_not_hold():
    assert worked_out(rows(fan=50.0)).level.by_power_law is None
    assert worked_out(rows(fan=50.0)).level.no_power_law
    assert HEAT.level.by_power_law is not None
    assert HEAT.level.inside.value == max(HEAT.level.by_walls, HEAT.level.by_power_law)


def test_picture_is_drawn_from_the_numbers_that_are_judged():
    field = HEAT.front
    rows_, columns = field.values.shape
    for device in HEAT.devices.values():
        column = int((device.box.centre.x - field.area.left) / field.area.width * columns)
        row = int((device.box.bottom - field.area.bottom) / field.area.height * rows_)
        near = field.values[max(0, row - 2) : row + 2, max(0, column - 1) : column + 2]
        assert near.min() - 3 <= device.air.value <= near.max() + 3


def test_every_temperature_has_a_band_and_what_is_assumed_is_said():
    assert HEAT.level.inside.band > 0
    for device in HEAT.devices.values():
        assert device.air.band >= taken("air band least")
        assert device.surface.band >= device.air.band
    told = " ".join(HEAT.assumed + HEAT.cautions)
    assert "not a type test" in told
    assert "PVC" in told


def test_no_device_placed_still_tells_the_mean_air():
    bare = dataclasses.replace(PANEL, layout=dataclasses.replace(PANEL.layout, devices={}))
    heat = worked_out(bare)
    assert heat.devices == {}
    assert heat.level.inside.value == HEAT.level.inside.value


def test_the_total_is_told_with_its_parts():
    parts = {"-A": (90, 115, 90, 60.0), "-P": (90, 90, 90, 8.0)}
    panel = panel_of(parts, {"-A": (100, 300)})
    in_door = dataclasses.replace(panel.job.devices["-P"], place=Place.DOOR)
    wire = Wire(
        number="1", start="-A:1", end="-P:1", size=WireSize("1.5", SizeSystem.MM2), current=10.0
    )
    job = dataclasses.replace(
        panel.job, devices={**panel.job.devices, "-P": in_door}, wires=(wire,)
    )
    told = losses_of(job, panel.routes)
    assert told.total == pytest.approx(68.0)
    assert told.in_door == 8.0
    assert told.parts == (
        "devices of the plate 60.0 W, of the door 8.0 W, wires 0.0 W "
        "(1 have no route yet and are not counted)"
    )
