"""Terminal torque: 0 is a spring terminal, blank is not stated."""

import pytest

from ..builders import boxes, panel, told, verdict

RULE = "data.terminal-torque"


@pytest.mark.parametrize(
    ("torque", "terminals", "wanted"),
    [
        (0.0, ("1",), "PASS"),
        (0.8, ("1",), "PASS"),
        (None, ("1",), "UNDECIDED"),
        (None, (), "PASS"),
    ],
)
def test_torque(torque, terminals, wanted):
    here = panel(**boxes((1, 1), terminal_torque=torque, terminals_top=terminals))
    assert verdict(RULE, here) == wanted


def test_the_cure_names_the_column():
    (found,) = told(RULE, panel(**boxes((1, 1), terminals_top=("1",))))
    assert "terminal_torque_nm" in found.cure
