"""Screws of rails and ducts that the job does not state."""

import pytest

from platewright.model.job import Hold, Practice

from ..builders import duct, panel, rail, settings, told, verdict

RULE = "data.fixing-screw"
BOTH = {"rails": {"R1": rail(0, 100, 200)}, "ducts": {"D1": duct(0, 200, 200)}}


def here(practice=Practice.IEC, layout=BOTH, **stock):
    return panel(layout=layout, job=settings(practice=practice, stock=stock))


@pytest.mark.parametrize(
    ("practice", "stock", "screws"),
    [
        (Practice.IEC, {}, {"stock.rail_screw": "M5", "stock.duct_screw": "M5"}),
        (Practice.NORTH_AMERICA, {}, {"stock.rail_screw": "10-32", "stock.duct_screw": "10-32"}),
        (Practice.NORTH_AMERICA, {"rail_screw": "M5"}, {"stock.duct_screw": "10-32"}),
        (
            Practice.NORTH_AMERICA,
            {"rail_screw": "M5", "duct_hold": Hold.RIVET},
            {"stock.duct_rivet": "3/16"},
        ),
        (Practice.IEC, {"rail_screw": "M5", "duct_hold": Hold.RIVET}, {"stock.duct_rivet": "4.8"}),
    ],
)
def test_what_is_taken_instead_is_told(practice, stock, screws):
    found = {
        reading.subject: reading.message
        for reading in told(RULE, here(practice, **stock))
        if reading.verdict == "CAUTION"
    }
    assert set(found) == set(screws)
    for subject, screw in screws.items():
        assert f"{screw} assumed" in found[subject]
        assert str(practice) in found[subject]


def test_stated_is_as_it_should_be():
    assert verdict(RULE, here(rail_screw="M5", duct_screw="M4")) == "PASS"


def test_nothing_to_hold():
    assert verdict(RULE, here(layout={})) == "NOT_APPLICABLE"
