"""A region of 100 × 50 at 200, 200."""

import pytest

from platewright.model.job import KeepOut
from platewright.model.layout import HoleState

from ..builders import boxes, duct, hole, panel, rail, settings, told, verdict

RULE = "space.keep-out"
REGION = KeepOut(x=200.0, y=200.0, width=100.0, height=50.0, reason="cut-out behind")
JOB = settings(plate={"keep_outs": (REGION,)})


@pytest.mark.parametrize(("x", "wanted"), [(160.0, "PASS"), (159.99, "PASS"), (160.01, "FAIL")])
def test_devices(x, wanted):
    assert verdict(RULE, panel(**boxes((x, 210)), job=JOB)) == wanted


@pytest.mark.parametrize(("cover", "wanted"), [(10.0, "PASS"), (9.99, "PASS"), (10.01, "FAIL")])
def test_covers_count(cover, wanted):
    assert verdict(RULE, panel(**boxes((150, 210), cover_right=cover), job=JOB)) == wanted


@pytest.mark.parametrize(
    ("layout", "wanted"),
    [
        ({"ducts": {"U1": duct(0, 160, 500)}}, "PASS"),
        ({"ducts": {"U1": duct(0, 160.01, 500)}}, "FAIL"),
        ({"rails": {"R1": rail(0, 267.5, 500)}}, "PASS"),
        ({"rails": {"R1": rail(0, 267.49, 500)}}, "FAIL"),
        ({"holes": {"H1": hole(302.1, 220)}}, "PASS"),
        ({"holes": {"H1": hole(302.09, 220)}}, "FAIL"),
        ({"holes": {"H1": hole(250, 220, state=HoleState.MARKED)}}, "PASS"),  # never drilled
    ],
)
def test_ducts_rails_and_holes(layout, wanted):
    assert verdict(RULE, panel(layout=layout, job=JOB)) == wanted


def test_the_finding_gives_the_reason():
    found = told(RULE, panel(**boxes((250, 240)), job=JOB))[0]
    assert "cut-out behind" in found.message
    assert found.cure == "Move -A1 10.0 mm up"


def test_without_regions_there_is_nothing_to_look_at():
    assert verdict(RULE, panel(**boxes((1, 1)))) == "NOT_APPLICABLE"
