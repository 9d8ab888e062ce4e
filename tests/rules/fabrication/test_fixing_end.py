"""First fixing within 50 mm of the end (shop practice, tables/data/fixings.csv)."""

import pytest

from platewright.model.layout import Run

from ..builders import duct, hole, panel, rail, settings, told, verdict

RULE = "fabrication.fixing-end"


def fixed(*places, limits=None, upright=False):
    holes = {
        f"H{n}": hole(60, at, "P1") if upright else hole(at, 60, "P1")
        for n, at in enumerate(places)
    }
    piece = duct(40, 100, 300, Run.UPRIGHT) if upright else duct(100, 40, 300)
    return panel(layout={"ducts": {"P1": piece}, "holes": holes}, job=settings(limits=limits or {}))


@pytest.mark.parametrize("upright", [False, True])
@pytest.mark.parametrize(
    ("first", "last", "wanted"),
    [
        (150, 350, "PASS"),
        (149.9, 350.1, "PASS"),
        (150.1, 350, "CAUTION"),
        (150, 349.9, "CAUTION"),
    ],
)
def test_both_ends(upright, first, last, wanted):
    assert verdict(RULE, fixed(first, last, upright=upright)) == wanted


@pytest.mark.parametrize(("first", "wanted"), [(125, "PASS"), (124.9, "PASS"), (125.1, "FAIL")])
def test_the_jobs_own_limit(first, wanted):
    here = fixed(first, 390, limits={"fixing_end": 25.0})
    assert verdict(RULE, here) == wanted
    assert "instead of 50 mm" in told(RULE, here)[0].message


def test_rails_too():
    layout = {"rails": {"R1": rail(0, 100, 300)}, "holes": {"H1": hole(51, 100, "R1")}}
    (found,) = told(RULE, panel(layout=layout))
    assert found.measured == 249.0
    assert "right end" in found.message
