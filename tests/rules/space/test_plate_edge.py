"""A device of 40 × 80 on a plate of 800 × 600 with a margin of 10."""

import pytest

from platewright.foundation.sources import Standing
from platewright.model.layout import Run

from ..builders import boxes, duct, panel, rail, settings, told, verdict

RULE = "space.plate-edge"
MARGIN = settings(plate={"edge_margin": 10.0})


@pytest.mark.parametrize(
    ("place", "wanted"),
    [
        ((10, 100), "PASS"),
        ((10.01, 100), "PASS"),
        ((9.99, 100), "FAIL"),
        ((750, 100), "PASS"),
        ((750.01, 100), "FAIL"),
        ((100, 10), "PASS"),
        ((100, 9.99), "FAIL"),
        ((100, 510), "PASS"),
        ((100, 510.01), "FAIL"),
    ],
)
def test_devices(place, wanted):
    assert verdict(RULE, panel(**boxes(place), job=MARGIN)) == wanted


@pytest.mark.parametrize(("x", "standing"), [(5.0, Standing.JOB), (-0.01, Standing.GEOMETRY)])
def test_the_margin_is_the_jobs_and_the_plate_is_geometry(x, standing):
    (found,) = told(RULE, panel(**boxes((x, 100)), job=MARGIN))
    assert found.source.standing is standing
    assert found.verdict == "FAIL"


@pytest.mark.parametrize(("cover", "wanted"), [(5.0, "PASS"), (4.99, "PASS"), (5.01, "FAIL")])
def test_covers_count(cover, wanted):
    assert verdict(RULE, panel(**boxes((15, 100), cover_left=cover), job=MARGIN)) == wanted


@pytest.mark.parametrize(("length", "wanted"), [(490, "PASS"), (489.9, "PASS"), (490.1, "FAIL")])
def test_ducts_and_rails(length, wanted):
    ducts = {"ducts": {"U1": duct(100, 100, length, Run.UPRIGHT)}}
    assert verdict(RULE, panel(layout=ducts, job=MARGIN)) == wanted
    rails = {"rails": {"R1": rail(300, 100, length)}}
    assert verdict(RULE, panel(layout=rails, job=MARGIN)) == wanted


def test_the_cure_says_how_far():
    (found,) = told(RULE, panel(**boxes((4, 100)), job=MARGIN))
    assert found.cure == "Move or shorten -A1 so that it ends 6.0 mm further right"


def test_without_a_margin_the_edge_itself_is_the_limit():
    (found,) = told(RULE, panel(**boxes((0, 100))))
    assert (found.verdict, found.limit) == ("PASS", 0.0)
    assert found.source.standing is Standing.GEOMETRY
