"""M5 tap drill 4.2: centre 8.4 mm from the edge (2 d, tables/data/hole_spacing.csv)."""

import pytest

from platewright.model.layout import HoleState

from ..builders import hole, panel, settings, told, verdict

RULE = "fabrication.hole-edge"


@pytest.mark.parametrize(("x", "wanted"), [(8.4, "PASS"), (8.5, "PASS"), (8.3, "CAUTION")])
def test_left_edge(x, wanted):
    assert verdict(RULE, panel(layout={"holes": {"H1": hole(x, 300)}})) == wanted


@pytest.mark.parametrize("place", [(800 - 8.3, 300), (300, 8.3), (300, 600 - 8.3)])
def test_each_edge(place):
    assert verdict(RULE, panel(layout={"holes": {"H1": hole(*place)}})) == "CAUTION"


@pytest.mark.parametrize(("x", "wanted"), [(15, "PASS"), (15.1, "PASS"), (14.9, "FAIL")])
def test_the_jobs_own_limit(x, wanted):
    job = settings(limits={"hole_edge": 15.0})
    assert verdict(RULE, panel(layout={"holes": {"H1": hole(x, 300)}}, job=job)) == wanted


def test_only_the_tightest_of_good_holes_is_told():
    holes = {"H1": hole(50, 300), "H2": hole(20, 300), "H3": hole(90, 300)}
    (found,) = told(RULE, panel(layout={"holes": holes}))
    assert (found.subject, found.measured) == ("H2", 20.0)


def test_a_drilled_hole_is_not_told_to_move():
    drilled = hole(5, 300, state=HoleState.DRILLED)
    (found,) = told(RULE, panel(layout={"holes": {"H1": drilled}}))
    assert found.cure.startswith("It is drilled and stays")
