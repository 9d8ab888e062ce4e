"""Mounting torque of screwed devices."""

import dataclasses

import pytest

from platewright.foundation.sources import Standing
from platewright.model.layout import Hole, HoleKind
from platewright.model.part import Mount
from platewright.sheets.torque_list import torque_table

from ..builders import boxes, panel, told, verdict

RULE = "data.mount-torque"


@pytest.mark.parametrize(("torque", "wanted"), [(2.5, "PASS"), (None, "UNDECIDED")])
def test_torque(torque, wanted):
    assert verdict(RULE, panel(**boxes((1, 1), mount_torque=torque))) == wanted


@pytest.mark.parametrize(
    ("size", "verdict_wanted", "says"),
    [("M5", "CAUTION", " N·m for M5"), ("M99", "UNDECIDED", "open on the torque sheet")],
)
def test_the_finding_says_what_the_torque_sheet_prints(size, verdict_wanted, says):
    """One torque for finding and sheet, to the last digit printed; open there, open here."""
    plain = panel(**boxes((1, 1)))
    tag = next(iter(plain.layout.devices))
    at = plain.layout.devices[tag]
    hole = Hole(x=at.x + 1, y=at.y + 1, kind=HoleKind.CLEARANCE, size=size, drill=5.5, holds=tag)
    screwed = dataclasses.replace(
        plain, layout=dataclasses.replace(plain.layout, holes={"H1": hole})
    )
    (finding,) = (f for f in told(RULE, screwed) if f.subject == tag)
    assert finding.verdict == verdict_wanted
    assert says in finding.message
    assert "blank" not in finding.message
    row = next(row for row in torque_table(screwed, ()).rows if row[1] == tag)
    if row[4] is None:
        assert verdict_wanted == "UNDECIDED"
    else:
        assert f"{row[4]:.2f} N·m" in finding.message
        assert finding.source.standing is Standing.PRACTICE


def test_rail_devices_are_not_asked():
    assert verdict(RULE, panel(**boxes((1, 1), mount=Mount.RAIL))) == "NOT_APPLICABLE"
    assert "mount_torque_nm" in told(RULE, panel(**boxes((1, 1))))[0].cure
