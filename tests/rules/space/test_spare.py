"""A row of 780 mm between margins of 10; 20 % of it are 156 mm."""

import pytest

from platewright.model.layout import Run

from ..builders import boxes, duct, panel, settings, told, verdict

RULE = "space.spare"
JOB = settings(limits={"spare": 0.2}, plate={"edge_margin": 10.0})


@pytest.mark.parametrize(
    ("width", "wanted"), [(312.0, "PASS"), (311.9, "PASS"), (312.1, "CAUTION")]
)
def test_two_devices(width, wanted):
    assert verdict(RULE, panel(**boxes((10, 100), (400, 100), width=width), job=JOB)) == wanted


@pytest.mark.parametrize(("width", "wanted"), [(280.0, "PASS"), (279, "PASS"), (281, "CAUTION")])
def test_upright_ducts_bound_the_row(width, wanted):
    # 40 + 40 mm of duct inside the margins leave 700: 20 % are 140
    uprights = {"U1": duct(10, 0, 600, Run.UPRIGHT), "U2": duct(750, 0, 600, Run.UPRIGHT)}
    here = panel(**boxes((50, 100), (400, 100), width=width), layout={"ducts": uprights}, job=JOB)
    assert verdict(RULE, here) == wanted


def test_stacked_devices_count_once():
    (found,) = told(RULE, panel(**boxes((10, 100), (10, 140), width=390.0), job=JOB))
    assert found.measured == pytest.approx(50.0)


def test_a_job_that_asks_for_none_is_not_looked_at():
    assert verdict(RULE, panel(**boxes((10, 100)))) == "NOT_APPLICABLE"


def test_an_upright_duct_beside_another_row_does_not_bound_this_one():
    uprights = {"U1": duct(500, 300, 200, Run.UPRIGHT)}
    here = panel(**boxes((10, 100), width=390.0), layout={"ducts": uprights}, job=JOB)
    assert told(RULE, here)[0].measured == pytest.approx(50.0)


def test_a_duct_across_does_not_bound_a_row():
    across = {"U1": duct(600, 110, 100)}
    here = panel(**boxes((10, 100), width=390.0), layout={"ducts": across}, job=JOB)
    assert told(RULE, here)[0].measured == pytest.approx(50.0)
