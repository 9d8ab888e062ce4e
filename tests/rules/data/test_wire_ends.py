"""A wire's group against the groups at its ends."""

from dataclasses import replace

import pytest

from platewright.model.job import Group

from ..builders import device, panel, part, settings, told, verdict, wire

RULE = "data.wire-ends"


def joined(one, other, own=""):
    return panel(
        parts=[part()],
        devices=[(device("-A1", group=one), (1, 1)), (device("-A2", group=other), (99, 1))],
        wires=[wire("7", "-A1:1", "-A2:2", group=own)],
    )


@pytest.mark.parametrize(
    ("one", "other", "own", "wanted"),
    [
        (("M",), ("M",), "M", "PASS"),
        (("M",), ("M",), "", "PASS"),
        (("M", "C"), ("C", "D"), "C", "PASS"),
        (("M",), ("C",), "", "CAUTION"),
        (("M",), ("C",), "M", "CAUTION"),
        (("M",), ("M",), "C", "CAUTION"),
        (("M",), (), "M", "NOT_APPLICABLE"),
    ],
)
def test_groups(one, other, own, wanted):
    assert verdict(RULE, joined(one, other, own)) == wanted


def test_the_end_that_does_not_fit_is_named():
    (found,) = told(RULE, joined(("M",), ("C",), "M"))
    assert found.message.endswith("its group M is not one of -A2:2")


def test_an_earth_wire_ends_at_devices_of_any_group():
    here = panel(
        parts=[part()],
        devices=[(device("-A1", group=("M",)), (1, 1)), (device("-A2", group=("PE",)), (99, 1))],
        wires=[wire("7", "-A1:1", "-A2:2", group="PE")],
        job=replace(settings(), groups=(Group(name="M"), Group(name="PE", protective=True))),
    )
    assert verdict(RULE, here) == "NOT_APPLICABLE"
