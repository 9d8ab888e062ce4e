import pytest
from hypothesis import given
from hypothesis import strategies as st

from platewright.model.wire import SizeSystem, WireSize
from platewright.wiring.copper import (
    conductor_area,
    conductor_resistance,
    gauge_diameter,
    resistance_at,
    solid_resistance,
)

GAUGES = ("14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0")
TEMPERATURE = st.floats(-40.0, 150.0)


def awg(number: str) -> WireSize:
    return WireSize(number, SizeSystem.AWG)


def test_ends_of_the_gauge() -> None:
    # ASTM B258: 36 AWG is 0.0050 in, 4/0 AWG is 0.4600 in
    assert gauge_diameter("36") == pytest.approx(0.0050 * 25.4)
    assert gauge_diameter("4/0") == pytest.approx(0.4600 * 25.4)


def test_one_gauge_up_and_down_are_a_fixed_ratio() -> None:
    # ASTM B258: 1.1229 between neighbours
    assert gauge_diameter("1/0") / gauge_diameter("1") == pytest.approx(1.1229, abs=5e-5)
    assert gauge_diameter("13") / gauge_diameter("14") == pytest.approx(1.1229, abs=5e-5)


def test_metric_area_is_nominal() -> None:
    assert conductor_area(WireSize("2.50", SizeSystem.MM2)) == 2.5


@pytest.mark.parametrize("number", GAUGES)
def test_stranded_is_two_percent_above_solid_copper(number: str) -> None:
    # NEC Chapter 9 Table 8 against resistivity and gauge alone: stranding adds about 2 %
    stranded = conductor_resistance(awg(number), at=75.0)
    assert stranded is not None
    solid = solid_resistance(conductor_area(awg(number)), at=75.0)
    assert 1.01 < stranded / solid < 1.035


@given(start=TEMPERATURE, end=TEMPERATURE, ohms=st.floats(0.1, 100.0))
def test_there_and_back_is_the_same(start: float, end: float, ohms: float) -> None:
    there = resistance_at(ohms, known_at=start, at=end)
    assert resistance_at(there, known_at=end, at=start) == pytest.approx(ohms)


@given(start=TEMPERATURE, rise=st.floats(0.1, 100.0), ohms=st.floats(0.1, 100.0))
def test_warmer_copper_always_resists_more(start: float, rise: float, ohms: float) -> None:
    assert resistance_at(ohms, known_at=start, at=start + rise) > ohms


def test_what_the_table_has_not_is_none() -> None:
    assert conductor_resistance(awg("30"), at=20.0) is None
