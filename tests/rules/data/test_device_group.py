"""Devices without a voltage group in a job that has groups."""

import pytest

from ..builders import device, panel, part, settings, told, verdict

RULE = "data.device-group"


@pytest.mark.parametrize(
    ("groups", "own", "wanted"),
    [
        (("M", "C"), ("M",), "PASS"),
        (("M", "C"), (), "UNDECIDED"),
        ((), (), "NOT_APPLICABLE"),
    ],
)
def test_group(groups, own, wanted):
    here = panel(
        parts=[part()], devices=[(device("-A1", group=own), (1, 1))], job=settings(groups=groups)
    )
    assert verdict(RULE, here) == wanted


def test_the_cure_lists_the_groups():
    here = panel(parts=[part()], devices=[(device("-A1"), (1, 1))], job=settings(groups=("M", "C")))
    assert told(RULE, here)[0].cure == "State group in devices.csv: M, C"
