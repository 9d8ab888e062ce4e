"""A fixing hole at 100, 140 with 30 mm kept free round it."""

import pytest

from platewright.model.geometry import Box
from platewright.model.job import FixingHole

from ..builders import boxes, duct, panel, rail, settings, told, verdict

RULE = "space.fixing-hole"
JOB = settings(plate={"fixing_holes": (FixingHole(x=100.0, y=140.0),)})


@pytest.mark.parametrize(("x", "wanted"), [(115.0, "PASS"), (115.01, "PASS"), (114.99, "FAIL")])
def test_beside(x, wanted):
    assert verdict(RULE, panel(**boxes((x, 120)), job=JOB)) == wanted


@pytest.mark.parametrize(("at", "wanted"), [(9.0, "PASS"), (9.01, "PASS"), (8.99, "FAIL")])
def test_the_room_is_a_circle_not_a_square(at, wanted):
    # a corner 9 right and 12 above lies on the circle of 15: 3-4-5 triangle
    assert verdict(RULE, panel(**boxes((100 + at, 152)), job=JOB)) == wanted


@pytest.mark.parametrize(("length", "wanted"), [(85, "PASS"), (84.9, "PASS"), (85.1, "FAIL")])
def test_the_end_of_a_duct_or_rail(length, wanted):
    assert verdict(RULE, panel(layout={"ducts": {"U1": duct(0, 120, length)}}, job=JOB)) == wanted
    assert verdict(RULE, panel(layout={"rails": {"R1": rail(0, 140, length)}}, job=JOB)) == wanted


def test_a_device_over_the_hole_is_named_with_the_cure():
    found = told(RULE, panel(**boxes((80, 100)), job=JOB))[0]
    assert (found.subject, found.measured, found.limit) == ("-A1", 0.0, 15.0)
    assert "15.0 mm" in found.cure


def test_only_what_stands_too_near_is_told_and_the_place_is_the_kept_square():
    here = panel(**boxes((105, 100), (400, 400), (60, 160)), job=JOB)
    failed = [found for found in told(RULE, here) if found.verdict == "FAIL"]
    assert [found.subject for found in failed] == ["-A1"]
    assert failed[0].place == Box(85, 125, 115, 155)


def test_the_nearest_of_good_things_is_told():
    (found,) = told(RULE, panel(**boxes((400, 400), (130, 100)), job=JOB))
    assert (found.subject, found.measured, found.verdict) == ("fixing hole 1", 30.0, "PASS")
