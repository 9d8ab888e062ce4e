"""A rail's end keeps 1 mm from what is not on it (shop practice, tables/data/fixings.csv)."""

import pytest

from platewright.model.device import Device
from platewright.model.layout import Run
from platewright.model.part import Mount

from ..builders import duct, panel, part, rail, told, verdict

RULE = "fabrication.rail-play"


def beside(x: float, *, length: float = 200.0, **fields):
    """A rail from 100 on at height 100; a body of 40 x 80 screwed to the plate at x."""
    box = Device(tag="-T1", part="box")
    return panel(
        parts=[part()],
        devices=[(box, (x, 60.0))],
        layout={"rails": {"R1": rail(100, 100, length)}, **fields},
    )


@pytest.mark.parametrize(
    ("x", "wanted"),
    [(300, "CAUTION"), (300.9, "CAUTION"), (301, "PASS"), (60, "CAUTION"), (59, "PASS")],
)
def test_body_beside_an_end(x, wanted):
    assert verdict(RULE, beside(x)) == wanted


def test_both_ends_are_told_and_what_to_do():
    second = {"rails": {"R1": rail(100, 100, 200), "R2": rail(300.4, 100, 100)}}
    found = told(RULE, panel(layout=second))
    assert [(one.subject, one.measured) for one in found] == [
        ("R1", pytest.approx(0.4)),
        ("R2", pytest.approx(0.4)),
    ]
    assert "Shorten rail R1 at its right end by 0.6 mm, or move R2 0.6 mm right" in found[0].cure


def test_ducts_count_and_what_is_not_level_does_not():
    upright = {
        "rails": {"R1": rail(100, 100, 200)},
        "ducts": {"D1": duct(300, 0, 300, Run.UPRIGHT)},
    }
    assert verdict(RULE, panel(layout=upright)) == "CAUTION"
    assert told(RULE, beside(300, length=200.0, holes={}))[0].place.width == 0
    far = panel(
        parts=[part()],
        devices=[(Device(tag="-T1", part="box"), (300.0, 117.5))],
        layout={"rails": {"R1": rail(100, 100, 200)}},
    )
    assert verdict(RULE, far) == "NOT_APPLICABLE"


def test_a_rail_upright_has_its_ends_below_and_above():
    stood = {
        "rails": {"R1": rail(100, 100, 200, run=Run.UPRIGHT)},
        "ducts": {"D1": duct(0, 300.5, 300)},
    }
    (found,) = told(RULE, panel(layout=stood))
    assert found.verdict == "CAUTION"
    assert "upper end" in found.message
    assert found.cure.endswith("0.5 mm up")


def test_a_device_level_with_the_rail_sits_over_its_end():
    """It hangs on this rail or on the next: its body is no bound of the saw's."""
    own = part("snap", mount=Mount.RAIL, rail_center=40.0)
    here = panel(
        parts=[own],
        devices=[(Device(tag="-F1", part="snap"), (300.0, 60.0))],
        layout={"rails": {"R1": rail(100, 100, 200)}},
    )
    assert verdict(RULE, here) == "NOT_APPLICABLE"
