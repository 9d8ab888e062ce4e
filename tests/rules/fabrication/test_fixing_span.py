"""Fixings at most 300 mm apart, 200 under a device above 1 kg (shop practice, fixings.csv)."""

import pytest

from platewright.model.part import Mount

from ..builders import device, duct, hole, panel, part, rail, settings, told, verdict

RULE = "fabrication.fixing-span"


def fixed(*places, limits=None, mass=None, x=100.0):
    heavy = part("heavy", mount=Mount.RAIL, rail_center=40.0, mass=mass, cover_left=40.0)
    return panel(
        parts=[heavy],
        devices=[(device("-T1", part="heavy"), (x, 60))] if mass else [],
        layout={
            "rails": {"R1": rail(0, 100, 700)},
            "holes": {f"H{n}": hole(at, 100, "R1") for n, at in enumerate(places)},
        },
        job=settings(limits=limits or {}),
    )


@pytest.mark.parametrize(("at", "wanted"), [(320, "PASS"), (319.9, "PASS"), (320.1, "CAUTION")])
def test_span(at, wanted):
    assert verdict(RULE, fixed(20, at)) == wanted


@pytest.mark.parametrize(("at", "wanted"), [(220, "PASS"), (219.9, "PASS"), (220.1, "CAUTION")])
def test_span_under_a_heavy_device(at, wanted):
    assert verdict(RULE, fixed(20, at, mass=1.5)) == wanted


@pytest.mark.parametrize(("mass", "wanted"), [(1.0, "PASS"), (0.9, "PASS"), (1.1, "CAUTION")])
def test_heavy_is_above_one_kilogram(mass, wanted):
    assert verdict(RULE, fixed(20, 300, mass=mass)) == wanted


def test_a_heavy_device_elsewhere_on_the_rail_does_not_count():
    assert verdict(RULE, fixed(20, 300, 450, mass=5.0, x=310)) == "PASS"


@pytest.mark.parametrize(("at", "wanted"), [(270, "PASS"), (269.9, "PASS"), (270.1, "FAIL")])
def test_the_jobs_own_limit(at, wanted):
    assert verdict(RULE, fixed(20, at, limits={"fixing_span": 250.0})) == wanted


def test_each_wide_span_of_a_duct_is_told_with_its_middle():
    layout = {
        "ducts": {"U1": duct(0, 80, 800)},
        "holes": {f"H{n}": hole(at, 100, "U1") for n, at in enumerate((20, 400, 780))},
    }
    found = told(RULE, panel(layout=layout))
    assert [one.measured for one in found] == [380, 380]
    assert "210.0 mm" in found[0].cure
