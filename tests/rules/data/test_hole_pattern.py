"""Hole pattern and screw of screwed devices."""

import pytest

from platewright.model.part import Mount

from ..builders import boxes, panel, told, verdict

RULE = "data.hole-pattern"

FULL = {"hole_pattern_width": 30.0, "hole_pattern_height": 0.0, "screw": "M5"}


@pytest.mark.parametrize("blank", [None, *FULL])
def test_each_is_asked(blank):
    fields = {name: None if name == blank else value for name, value in FULL.items()}
    here = panel(**boxes((1, 1), **fields))
    assert verdict(RULE, here) == ("UNDECIDED" if blank else "PASS")
    assert blank is None or blank in told(RULE, here)[0].message


def test_rail_devices_are_not_asked():
    assert verdict(RULE, panel(**boxes((1, 1), mount=Mount.RAIL))) == "NOT_APPLICABLE"
