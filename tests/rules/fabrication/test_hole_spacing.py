"""Two holes of 4.2: centres 12.6 mm apart (3 d); a web no thinner than the plate."""

import pytest

from platewright.model.layout import HoleState

from ..builders import hole, panel, settings, told, verdict

RULE = "fabrication.hole-spacing"


def two(distance, drill=4.2, **plate):
    holes = {"H1": hole(100, 100, drill=drill), "H2": hole(100 + distance, 100, drill=drill)}
    return panel(layout={"holes": holes}, job=settings(plate=plate))


@pytest.mark.parametrize(
    ("distance", "wanted"), [(12.6, "PASS"), (12.7, "PASS"), (12.5, "CAUTION")]
)
def test_three_diameters(distance, wanted):
    assert verdict(RULE, two(distance)) == wanted


@pytest.mark.parametrize(("distance", "wanted"), [(6.0, "PASS"), (6.1, "PASS"), (5.9, "CAUTION")])
def test_web_as_thick_as_the_plate(distance, wanted):
    # holes of 1.5 in a plate of 4.5: 3 d = 4.5, but the web asks 1.5 + 4.5
    assert verdict(RULE, two(distance, drill=1.5, thickness=4.5)) == wanted


@pytest.mark.parametrize(("distance", "wanted"), [(4.2, "CAUTION"), (4.1, "FAIL"), (0.0, "FAIL")])
def test_holes_that_run_into_each_other_fail(distance, wanted):
    assert verdict(RULE, two(distance)) == wanted


def test_slanting_distances_count():
    holes = {"H1": hole(100, 100), "H2": hole(109, 112)}  # 15 by 3-4-5
    (found,) = told(RULE, panel(layout={"holes": holes | {"H3": hole(103, 104)}}))[:1]
    assert found.measured == pytest.approx(5.0)


def test_one_hole_alone():
    assert verdict(RULE, panel(layout={"holes": {"H1": hole(1, 1)}})) == "NOT_APPLICABLE"


def test_the_cure_moves_the_hole_that_is_not_drilled():
    holes = {"H1": hole(100, 100, "-A1"), "H2": hole(106, 100, "-A2", state=HoleState.DRILLED)}
    (found,) = told(RULE, panel(layout={"holes": holes}))
    assert found.cure.startswith("Move -A1 6.6 mm away")


@pytest.mark.parametrize(
    ("distance", "wanted"), [(30.0, "PASS"), (30.1, "PASS"), (29.9, "CAUTION")]
)
def test_the_larger_hole_sets_the_distance(distance, wanted):
    holes = {"H1": hole(100, 100, drill=3.3), "H2": hole(100 + distance, 100, drill=10.0)}
    assert verdict(RULE, panel(layout={"holes": holes})) == wanted
