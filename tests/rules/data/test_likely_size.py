"""Bodies against copper's density and a rail's clip."""

import pytest

from platewright.model.part import Mount

from ..builders import device, panel, part, verdict

RULE = "data.likely-size"


def of(**fields):
    return panel(parts=[part(**fields)], devices=[(device("-A1"), (1, 1))])


@pytest.mark.parametrize(
    ("height", "depth", "wanted"),
    [(30.0, 25.0, "PASS"), (31.0, 26.0, "PASS"), (29.9, 26.0, "CAUTION"), (31.0, 24.9, "CAUTION")],
)
def test_clip_of_a_rail(height, depth, wanted):
    fields = {"mount": Mount.RAIL, "rail_center": 10.0, "mass": None}
    assert verdict(RULE, of(height=height, depth=depth, **fields)) == wanted


@pytest.mark.parametrize(("mass", "wanted"), [(8.96, "PASS"), (8.9, "PASS"), (8.97, "CAUTION")])
def test_denser_than_copper(mass, wanted):
    # by hand: 100 mm cube of copper weighs 8.96 kg
    size = {"width": 100.0, "height": 100.0, "depth": 100.0}
    assert verdict(RULE, of(mass=mass, **size)) == wanted


def test_inches_in_a_mm_column():
    size = {"width": 5.5, "height": 5.1, "depth": 4.7}
    assert verdict(RULE, of(mass=9.5, **size)) == "CAUTION"


@pytest.mark.parametrize(("depth", "wanted"), [(12.0, "PASS"), (12.1, "PASS"), (11.9, "CAUTION")])
def test_a_body_that_may_be_in_inches(depth, wanted):
    size = {"width": 3.54, "height": 6.69, "mass": None}
    assert verdict(RULE, of(depth=depth, **size)) == wanted
