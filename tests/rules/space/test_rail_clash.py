"""A rail 35 wide with its axis at y 200: it covers 182.5 to 217.5."""

import pytest

from platewright.model.part import Mount

from ..builders import boxes, duct, panel, rail, told, verdict

RULE = "space.rail-clash"
RAIL = {"R1": rail(50, 200, 400)}


@pytest.mark.parametrize(("y", "wanted"), [(217.5, "PASS"), (217.51, "PASS"), (217.49, "FAIL")])
def test_screwed_device(y, wanted):
    assert verdict(RULE, panel(**boxes((100, y)), layout={"rails": RAIL})) == wanted


@pytest.mark.parametrize(("x", "wanted"), [(450, "PASS"), (450.1, "PASS"), (449.9, "FAIL")])
def test_the_end_of_the_rail(x, wanted):
    assert verdict(RULE, panel(**boxes((x, 180)), layout={"rails": RAIL})) == wanted


@pytest.mark.parametrize(("y", "wanted"), [(217.5, "PASS"), (217.51, "PASS"), (217.49, "FAIL")])
def test_duct(y, wanted):
    layout = {"rails": RAIL, "ducts": {"U1": duct(0, y, 300)}}
    assert verdict(RULE, panel(layout=layout)) == wanted


@pytest.mark.parametrize(("y", "wanted"), [(235, "PASS"), (235.1, "PASS"), (234.9, "FAIL")])
def test_another_rail(y, wanted):
    layout = {"rails": RAIL | {"R2": rail(300, y, 400)}}
    assert verdict(RULE, panel(layout=layout)) == wanted


def test_its_own_devices_are_no_clash_but_a_second_rail_is():
    hung = boxes((100, 160), mount=Mount.RAIL, rail_center=40.0)
    assert verdict(RULE, panel(**hung, layout={"rails": RAIL})) == "PASS"
    two = RAIL | {"R2": rail(50, 236, 400)}
    found = told(RULE, panel(**hung, layout={"rails": two}))[0]
    assert (found.subject, found.verdict) == ("R2", "FAIL")
    assert found.measured == pytest.approx(240 - 218.5)


def test_a_cover_over_a_rail_is_no_clash():
    covered = boxes((100, 230), cover_bottom=40.0)
    assert verdict(RULE, panel(**covered, layout={"rails": RAIL})) == "PASS"


@pytest.mark.parametrize(("y", "wanted"), [(217.4, "PASS"), (217.5, "FAIL")])
def test_a_rail_off_its_axis_is_told_by_on_rail_up_to_half_its_width(y, wanted):
    hung = boxes((100, 160), mount=Mount.RAIL, rail_center=40.0, cover_bottom=9.0)
    assert verdict(RULE, panel(**hung, layout={"rails": {"R1": rail(50, y, 400)}})) == wanted
