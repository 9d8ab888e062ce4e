"""Torque against what strips a tapped plate.

Limits worked by hand in the trade values: M6 in 2.0 mm steel 3.79 N·m, M8 6.98, both within 1 %.
"""

import pytest

from platewright.model.layout import HoleKind
from platewright.model.part import Mount

from ..builders import device, hole, panel, part, settings, told, verdict

RULE = "fabrication.thread-strip"


def tightened(torque, *, kind=HoleKind.TAPPED, material="steel", size="M6"):
    screwed = part("screwed", mount=Mount.SCREWS, screw=size, mount_torque=torque)
    return panel(
        parts=[screwed],
        devices=[(device("-T1", part="screwed"), (100, 100))],
        layout={"holes": {"H1": hole(110, 110, "-T1", size=size, kind=kind, drill=5.0)}},
        job=settings(plate={"thickness": 2.0, "material": material}),
    )


@pytest.mark.parametrize(("torque", "wanted"), [(3.7, "PASS"), (3.9, "CAUTION"), (7.0, "CAUTION")])
def test_m6_in_two_millimetres_of_steel(torque, wanted):
    assert verdict(RULE, tightened(torque)) == wanted


def test_exactly_at_the_limit_and_just_beside():
    (found,) = told(RULE, tightened(3.0))
    limit = found.limit
    assert limit == pytest.approx(3.79, rel=0.01)
    for torque, wanted in ((limit - 0.001, "PASS"), (limit, "PASS"), (limit + 0.001, "CAUTION")):
        assert verdict(RULE, tightened(torque)) == wanted


def test_aluminium_bears_half():
    (steel,) = told(RULE, tightened(1.0))
    (soft,) = told(RULE, tightened(1.0, material="aluminium"))
    assert soft.limit == pytest.approx(steel.limit / 2)


def test_a_nut_behind_is_not_looked_at():
    assert told(RULE, tightened(9.0, kind=HoleKind.CLEARANCE))[0].verdict == "NOT_APPLICABLE"
    assert told(RULE, tightened(None))[0].verdict == "NOT_APPLICABLE"


def test_an_unknown_sheet_is_undecided():
    assert verdict(RULE, tightened(3.0, material="brass")) == "UNDECIDED"
