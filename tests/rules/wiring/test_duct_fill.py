"""Fill of a 40 × 60 duct of 2000 mm² inside.

Limit of 50 %: NFPA 79 13.5.2 (published); elsewhere shop practice.
"""

from dataclasses import replace

import pytest

from platewright.foundation.sources import Standing
from platewright.model.job import Practice
from platewright.model.routes import DuctLoad, Route, Routes, Stretch

from ..builders import duct, panel, settings, told, verdict

RULE = "wiring.duct-fill"
AMERICA = Practice.NORTH_AMERICA


def filled(area, practice=Practice.IEC, **limits):
    load = DuctLoad(duct="U1", at=120.0, wires=80, area=area, inside=2000.0, assumed=False)
    return panel(
        layout={"ducts": {"U1": duct(0, 0, 500)}},
        routes=Routes(wires={}, loads={"U1": load}),
        job=settings(practice=practice, limits=limits),
    )


@pytest.mark.parametrize(
    ("area", "practice", "wanted"),
    [
        (1000.0, AMERICA, "PASS"),
        (999.0, AMERICA, "PASS"),
        (1001.0, AMERICA, "FAIL"),
        (1000.0, Practice.IEC, "PASS"),
        (999.0, Practice.IEC, "PASS"),
        (1001.0, Practice.IEC, "CAUTION"),
    ],
)
def test_half_full(area, practice, wanted):
    assert verdict(RULE, filled(area, practice)) == wanted


@pytest.mark.parametrize(("area", "wanted"), [(1200, "PASS"), (1199, "PASS"), (1201, "FAIL")])
@pytest.mark.parametrize("practice", list(Practice))
def test_the_jobs_own_limit(area, practice, wanted):
    here = filled(area, practice, duct_fill=0.60)
    assert verdict(RULE, here) == wanted
    (found,) = told(RULE, here)
    assert found.source.standing is Standing.JOB
    assert "instead of 50 %" in found.message


def test_the_cure_gives_the_areas():
    (found,) = told(RULE, filled(1240.0, AMERICA))
    assert "fill 62 %, at most 50 %" in found.message
    assert "2480 mm² inside" in found.cure
    assert "240 mm² another way" in found.cure
    assert found.source.document == "NFPA 79"


def test_no_wires():
    assert verdict(RULE, panel()) == "NOT_APPLICABLE"


def unsized(area, practice=AMERICA):
    """Wire 9 of unknown diameter lies in U1 beside others of this area."""
    here = filled(area, practice)
    stretch = (Stretch(duct="U1", start=0.0, end=100.0),)
    route = Route(wire="9", path=(), stretches=stretch, run=1.0, cut=1.0)
    return replace(here, routes=replace(here.routes, wires={"9": route}))


def test_a_wire_of_unknown_diameter_leaves_the_fill_open():
    assert verdict(RULE, unsized(400.0)) == "UNDECIDED"
    (found,) = told(RULE, unsized(400.0))
    assert "wire 9 beside 20.0 % of 80 wires (limit 50 %)" in found.message
    assert verdict(RULE, unsized(1001.0)) == "FAIL"  # too full without it already


def test_an_open_fill_cites_what_the_job_is_built_by():
    assert told(RULE, unsized(400.0))[0].source.document == "NFPA 79"
    assert told(RULE, unsized(400.0, Practice.IEC))[0].source.document == "shop practice"


def test_a_duct_of_unknown_wires_alone_is_open_too():
    here = unsized(400.0)
    (found,) = told(RULE, replace(here, routes=replace(here.routes, loads={})))
    assert found.verdict == "UNDECIDED"
    assert "U1" in found.message
