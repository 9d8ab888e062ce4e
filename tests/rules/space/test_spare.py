"""A row of 780 mm between margins of 10; 20 % of it are 156 mm."""

from dataclasses import replace

import pytest

from platewright.model.device import Device
from platewright.model.layout import Run

from ..builders import boxes, duct, panel, part, settings, told, verdict

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


GROUPED = settings(plate={"edge_margin": 10.0}, groups=("M", "C"))
GROUPED = replace(GROUPED, groups=(replace(GROUPED.groups[0], spare=0.25), GROUPED.groups[1]))


def _of_groups(*widths_and_groups):
    parts = [part(f"p{k}", width=w) for k, (w, _) in enumerate(widths_and_groups)]
    left, devices = 10.0, []
    for k, (w, g) in enumerate(widths_and_groups):
        devices.append((Device(tag=f"-A{k}", part=f"p{k}", group=(g,)), (left, 100.0)))
        left += w
    return panel(parts=parts, devices=devices, job=GROUPED)


@pytest.mark.parametrize(("other", "wanted"), [(185.0, "PASS"), (186.0, "CAUTION")])
def test_a_group_gets_of_a_mixed_row_by_what_it_takes(other, wanted):
    # 780 wide, 400 + 185 taken, 195 free: 400/585 of it, 133.3, is a quarter of 533.3
    (found,) = told(RULE, _of_groups((400.0, "M"), (other, "C")))
    assert found.verdict == wanted
    assert found.subject == "M"


def test_a_group_that_asks_for_nothing_or_is_not_there_is_not_judged():
    assert verdict(RULE, _of_groups((700.0, "C"))) == "NOT_APPLICABLE"
