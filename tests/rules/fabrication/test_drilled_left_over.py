"""Holes drilled before a change."""

import pytest

from platewright.model.layout import HoleState

from ..builders import hole, panel, told, verdict

RULE = "fabrication.drilled-left-over"


@pytest.mark.parametrize(
    ("state", "holds", "wanted"),
    [
        (HoleState.DRILLED, "", "CAUTION"),
        (HoleState.DRILLED, "-A1", "PASS"),
        (HoleState.PLANNED, "", "NOT_APPLICABLE"),
        (HoleState.MARKED, "", "NOT_APPLICABLE"),
    ],
)
def test_states(state, holds, wanted):
    here = panel(layout={"holes": {"H1": hole(50, 50, holds, state=state)}})
    assert verdict(RULE, here) == wanted
    assert told(RULE, here)[0].rule.id == RULE
