"""A rail device that must be lifted 8 mm; its top is at 180."""

import pytest

from platewright.model.geometry import Box
from platewright.model.part import Mount

from ..builders import boxes, device, duct, panel, part, told, verdict

RULE = "space.snap-room"
FIELDS = {"mount": Mount.RAIL, "rail_center": 40.0, "snap_travel": 8.0}


@pytest.mark.parametrize(("y", "wanted"), [(188, "PASS"), (188.1, "PASS"), (187.9, "FAIL")])
def test_duct_above(y, wanted):
    layout = {"ducts": {"U1": duct(0, y, 400)}}
    assert verdict(RULE, panel(**boxes((100, 100), **FIELDS), layout=layout)) == wanted


@pytest.mark.parametrize(("y", "wanted"), [(188, "PASS"), (188.1, "PASS"), (187.9, "FAIL")])
def test_device_above(y, wanted):
    assert verdict(RULE, panel(**boxes((100, 100), (120, y), **FIELDS))) == wanted


def test_a_linked_partner_is_lifted_with_it():
    linked = [(device("-Q1"), (100, 180)), (device("-Q2", hangs_under="-Q1"), (100, 100))]
    assert verdict(RULE, panel(parts=[part(**FIELDS)], devices=linked)) == "PASS"


def test_travel_not_stated_is_not_looked_at():
    assert verdict(RULE, panel(**boxes((1, 1), mount=Mount.RAIL))) == "NOT_APPLICABLE"


def test_counted_from_the_body_and_shown_above_it():
    covered = boxes((100, 100), cover_top=6.0, **FIELDS)
    here = panel(**covered, layout={"ducts": {"U1": duct(0, 188, 400)}})
    (found,) = told(RULE, here)
    assert (found.measured, found.verdict) == (8.0, "PASS")
    assert found.place == Box(100, 180, 140, 188)
