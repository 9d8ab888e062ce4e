"""Wires without an outside diameter."""

import pytest

from ..builders import boxes, panel, told, verdict, wire

RULE = "data.wire-size"


@pytest.mark.parametrize(("known", "wanted"), [({"7": 3.0}, "PASS"), ({}, "UNDECIDED")])
def test_diameter(known, wanted):
    here = panel(**boxes((1, 1)), wires=[wire("7", "-A1:1", "-A1:2")], outer_diameters=known)
    assert verdict(RULE, here) == wanted
    assert told(RULE, here)[0].subject == ("" if known else "7")


def test_no_wires():
    assert verdict(RULE, panel()) == "NOT_APPLICABLE"
