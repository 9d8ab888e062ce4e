"""Wires without a voltage group in a job that has groups."""

import pytest

from ..builders import boxes, panel, settings, verdict, wire

RULE = "data.wire-group"


@pytest.mark.parametrize(
    ("groups", "own", "wanted"),
    [(("M",), "M", "PASS"), (("M",), "", "UNDECIDED"), ((), "", "NOT_APPLICABLE")],
)
def test_group(groups, own, wanted):
    here = panel(
        **boxes((1, 1)),
        wires=[wire("7", "-A1:1", "-A1:2", group=own)],
        job=settings(groups=groups),
    )
    assert verdict(RULE, here) == wanted
