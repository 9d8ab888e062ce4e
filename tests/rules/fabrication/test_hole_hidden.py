"""A device -A1 of 40 × 80 at 100, 100, and holes of other things."""

import pytest

from platewright.model.part import Mount

from ..builders import boxes, duct, hole, panel, rail, told, verdict

RULE = "fabrication.hole-hidden"


@pytest.mark.parametrize(("x", "wanted"), [(140.0, "PASS"), (140.1, "PASS"), (139.9, "FAIL")])
def test_a_ducts_hole_under_a_device(x, wanted):
    layout = {"ducts": {"U1": duct(300, 80, 100)}, "holes": {"H1": hole(x, 140, "U1")}}
    assert verdict(RULE, panel(**boxes((100, 100)), layout=layout)) == wanted


@pytest.mark.parametrize(("y", "wanted"), [(125, "PASS"), (125.1, "PASS"), (124.9, "FAIL")])
def test_a_devices_hole_under_a_duct(y, wanted):
    layout = {"ducts": {"U1": duct(0, y, 500)}, "holes": {"H1": hole(120, 125, "-A1")}}
    here = panel(**boxes((100, 40)), layout=layout)
    assert verdict(RULE, here) == wanted


def test_its_own_hole_is_not_hidden():
    layout = {"holes": {"H1": hole(120, 140, "-A1")}}
    assert verdict(RULE, panel(**boxes((100, 100)), layout=layout)) == "PASS"


@pytest.mark.parametrize(("mount", "wanted"), [(Mount.RAIL, "PASS"), (Mount.SCREWS, "FAIL")])
def test_a_rails_screw_under_what_hangs_on_it(mount, wanted):
    layout = {"rails": {"R1": rail(0, 140, 300)}, "holes": {"H1": hole(120, 140, "R1")}}
    here = panel(**boxes((100, 100), mount=mount, rail_center=40.0), layout=layout)
    assert verdict(RULE, here) == wanted
    assert told(RULE, here)[0].rule.id == RULE


@pytest.mark.parametrize(
    ("x", "y", "depth"), [(103, 140, 3), (135, 140, 5), (120, 108, 8), (120, 173, 7)]
)
def test_the_message_says_how_deep_it_lies(x, y, depth):
    layout = {"ducts": {"U1": duct(300, 80, 100)}, "holes": {"H1": hole(x, y, "U1")}}
    (found,) = told(RULE, panel(**boxes((100, 100)), layout=layout))
    assert f"lies {depth}.0 mm under -A1" in found.message
