"""A device of 60 W with a duct 20 mm right of it: its limit at the ends of the band."""

import pytest

from platewright.heat.panel_heat import heat_of
from platewright.model.layout import Run

from ..builders import boxes, duct, panel, settings, told, verdict

RULE = "heat.duct-temperature"


def warm(limit=None, outside=20.0, x=160.0):
    job = settings(air={"outside": outside, "fan": 500.0}, limits={"duct_temperature": limit})
    return panel(
        **boxes((100, 200), heat=60.0),
        job=job,
        layout={"ducts": {"D1": duct(x, 100, 300, Run.UPRIGHT)}},
    )


WALL = heat_of(warm()).ducts["D1"].temperature


@pytest.mark.parametrize(
    ("limit", "outcome"),
    [
        (WALL.high, "PASS"),
        (WALL.high + 0.01, "PASS"),
        (WALL.high - 0.01, "UNDECIDED"),
        (WALL.low, "UNDECIDED"),
        (WALL.low - 0.01, "FAIL"),
    ],
)
def test_limit(limit, outcome):
    assert verdict(RULE, warm(limit)) == outcome


def test_outside_air_that_is_assumed_can_not_fail():
    assert verdict(RULE, warm(20.0, outside=None)) == "CAUTION"


def test_the_limit_of_pvc_stands_where_the_job_states_none():
    assert told(RULE, warm())[0].limit == 60.0


def test_farther_is_cooler():
    near, far = (heat_of(warm(x=x)).ducts["D1"].temperature.value for x in (150.0, 250.0))
    assert far < near
