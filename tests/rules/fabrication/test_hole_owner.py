"""What holes hold must be there."""

import pytest

from platewright.model.layout import HoleState

from ..builders import boxes, duct, hole, panel, rail, verdict

RULE = "fabrication.hole-owner"


@pytest.mark.parametrize(
    ("holds", "state", "wanted"),
    [
        ("-A1", HoleState.PLANNED, "PASS"),
        ("U1", HoleState.PLANNED, "PASS"),
        ("R1", HoleState.MARKED, "PASS"),
        ("", HoleState.PLANNED, "FAIL"),
        ("", HoleState.DRILLED, "PASS"),
        ("-A2", HoleState.PLANNED, "FAIL"),
        ("", HoleState.MARKED, "NOT_APPLICABLE"),  # a mark to wipe off is no hole
        ("-A2", HoleState.DRILLED, "FAIL"),
    ],
)
def test_owners(holds, state, wanted):
    layout = {
        "ducts": {"U1": duct(0, 300, 100)},
        "rails": {"R1": rail(0, 400, 100)},
        "holes": {"H1": hole(20, 30, holds, state=state)},
    }
    assert verdict(RULE, panel(**boxes((10, 10)), layout=layout)) == wanted
