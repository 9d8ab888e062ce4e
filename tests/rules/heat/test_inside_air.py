"""One device of 120 W, 25 °C outside: wanted air at the ends of the estimate's band."""

import pytest

from platewright.heat.panel_heat import heat_of

from ..builders import boxes, panel, settings, told, verdict

RULE = "heat.inside-air"


def warm(wanted=None, outside=25.0, heat=120.0, **air):
    job = settings(air={"outside": outside, "inside": wanted, **air})
    return panel(**boxes((100, 200), heat=heat), job=job)


INSIDE = heat_of(warm()).level.inside


@pytest.mark.parametrize(
    ("wanted", "outcome"),
    [
        (INSIDE.high, "PASS"),
        (INSIDE.high + 0.01, "PASS"),
        (INSIDE.high - 0.01, "UNDECIDED"),
        (INSIDE.low, "UNDECIDED"),
        (INSIDE.low - 0.01, "FAIL"),
    ],
)
def test_wanted_air(wanted, outcome):
    assert verdict(RULE, warm(wanted)) == outcome


def test_air_that_is_only_assumed_can_not_fail():
    assert verdict(RULE, warm(None)) == "CAUTION"
    assert verdict(RULE, warm(INSIDE.low - 8, outside=None)) == "CAUTION"


def test_heat_that_is_not_stated_is_never_a_pass():
    here = warm(90.0, heat=None)
    assert verdict(RULE, here) == "UNDECIDED"
    assert "-A1" in told(RULE, here)[0].message


def test_cure_names_a_fan_that_holds_it():
    wanted = 35.0
    cure = told(RULE, warm(wanted))[0].cure
    flow = float(cure.split("a filter fan of ")[1].split(" m³/h")[0])
    assert heat_of(warm(wanted, fan=flow)).level.inside.value == pytest.approx(wanted, abs=0.5)
    power = float(cure.split("a cooling unit of ")[1].split(" W")[0])
    assert heat_of(warm(wanted, cooling=power)).level.inside.value == pytest.approx(wanted, abs=0.5)


def test_no_fan_is_named_where_outside_is_too_warm():
    assert "fan" not in told(RULE, warm(25.0))[0].cure
    assert "cooling unit" in told(RULE, warm(25.0))[0].cure
