"""A device of 70 W with a duct right of it: distance at the ends of the needed gap's band."""

import pytest

from platewright.heat.panel_heat import heat_of
from platewright.model.layout import Run

from ..builders import boxes, duct, panel, settings, told, verdict

RULE = "heat.heat-gap"
SIZE = {"width": 100.0, "height": 115.0, "depth": 90.0, "heat": 70.0}


def warm(gap, **fields):
    job = settings(air={"outside": 20.0, "fan": 400.0})
    return panel(
        **boxes((100, 200), **(SIZE | fields)),
        job=job,
        layout={"ducts": {"D1": duct(200.0 + gap, 100, 300, Run.UPRIGHT)}},
    )


def needed(gap=40.0):
    (right,) = [f for f in heat_of(warm(gap)).facings if f.side == "right"]
    return right.needed, right.needed_band


NEED, BAND = needed()


@pytest.mark.parametrize(
    ("gap", "outcome"),
    [
        (NEED + BAND + 0.1, "PASS"),
        (NEED + BAND - 0.1, "UNDECIDED"),
        (NEED - BAND + 0.1, "UNDECIDED"),
        (NEED - BAND - 0.1, "CAUTION"),
    ],
)
def test_distance(gap, outcome):
    assert verdict(RULE, warm(gap)) == outcome


def test_need_is_that_of_the_air_at_the_device():
    assert needed(40.0)[0] == pytest.approx(needed(60.0)[0], rel=1e-6)


def test_stated_clear_space_is_left_to_its_own_rule():
    stated = {f"clear_{side}": 5.0 for side in ("left", "right", "top", "bottom")}
    assert verdict(RULE, warm(5.0, **stated)) == "NOT_APPLICABLE"


def test_where_no_gap_is_enough_it_says_so():
    here = warm(40.0, heat=4000.0)
    assert verdict(RULE, here) == "CAUTION"
    assert "no gap" in told(RULE, here)[0].message
