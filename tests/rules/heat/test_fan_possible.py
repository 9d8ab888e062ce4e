"""A fan helps only where the outside is cooler than what is wanted inside."""

import pytest

from ..builders import boxes, panel, settings, verdict

RULE = "heat.fan-possible"


@pytest.mark.parametrize(("outside", "outcome"), [(39.9, "PASS"), (40.0, "FAIL"), (40.1, "FAIL")])
def test_outside(outside, outcome):
    job = settings(air={"outside": outside, "inside": 40.0, "fan": 50.0})
    assert verdict(RULE, panel(**boxes((1, 1)), job=job)) == outcome


def test_air_that_is_assumed_can_not_fail():
    job = settings(air={"outside": 45.0, "fan": 50.0})
    assert verdict(RULE, panel(**boxes((1, 1)), job=job)) == "CAUTION"


@pytest.mark.parametrize("what", ["vents", "exchanger"])
def test_vents_and_exchanger_are_no_better(what):
    job = settings(air={"outside": 45.0, "inside": 40.0, what: 100.0})
    assert verdict(RULE, panel(**boxes((1, 1)), job=job)) == "FAIL"


@pytest.mark.parametrize("air", [{}, {"cooling": 300.0}])
def test_nothing_is_said_without_outside_air_let_in(air):
    job = settings(air={"outside": 45.0, "inside": 40.0, **air})
    assert verdict(RULE, panel(**boxes((1, 1)), job=job)) == "NOT_APPLICABLE"
