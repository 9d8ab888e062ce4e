"""One device: its limit at the ends of the estimate's band."""

import dataclasses

import pytest

from platewright.heat.panel_heat import air_limit, heat_of

from ..builders import boxes, panel, settings, told, verdict

RULE = "heat.device-air"


def warm(limit=None, outside=25.0, load=1.0, **fields):
    here = panel(
        **boxes((100, 200), heat=60.0, heat_limit=limit, **fields),
        job=settings(air={"outside": outside}),
    )
    devices = {tag: dataclasses.replace(d, load=load) for tag, d in here.job.devices.items()}
    return dataclasses.replace(here, job=dataclasses.replace(here.job, devices=devices))


AIR = heat_of(warm()).devices["-A1"].air


@pytest.mark.parametrize(
    ("limit", "outcome"),
    [
        (AIR.high, "PASS"),
        (AIR.high + 0.01, "PASS"),
        (AIR.high - 0.01, "UNDECIDED"),
        (AIR.low, "UNDECIDED"),
        (AIR.low - 0.01, "FAIL"),
        (None, "UNDECIDED"),
    ],
)
def test_limit(limit, outcome):
    assert verdict(RULE, warm(limit)) == outcome


def test_outside_air_that_is_assumed_can_not_fail():
    assert verdict(RULE, warm(10.0, outside=None)) == "CAUTION"


@pytest.mark.parametrize(("load", "limit"), [(1.0, 40.0), (0.75, 50.0), (0.5, 60.0)])
def test_less_load_bears_warmer_air(load, limit):
    # 2.5 % per kelvin: a quarter less load, 10 K more
    assert air_limit(40.0, 0.025, load)[0] == pytest.approx(limit)
    assert air_limit(40.0, None, load)[0] == 40.0
    judged = told(RULE, warm(40.0, load=load, derating=0.025))[0]
    assert judged.limit == pytest.approx(limit)
