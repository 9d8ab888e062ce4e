"""Wires without an outside diameter."""

import pytest

from platewright.model.wire import SizeSystem, WireSize

from ..builders import boxes, panel, told, verdict, wire

RULE = "data.wire-size"


@pytest.mark.parametrize(("known", "wanted"), [({"7": 3.0}, "PASS"), ({}, "UNDECIDED")])
def test_diameter(known, wanted):
    here = panel(**boxes((1, 1)), wires=[wire("7", "-A1:1", "-A1:2")], outer_diameters=known)
    assert verdict(RULE, here) == wanted
    assert told(RULE, here)[0].subject == ("" if known else "7")


def test_no_wires():
    assert verdict(RULE, panel()) == "NOT_APPLICABLE"


def test_the_cure_names_the_types_that_the_tables_have_in_that_size():
    """H07V-K starts at 1.5 mm²; the thinner ones are H05V-K (EN 50525-2-31)."""
    one = wire("7", "-A1:1", "-A1:2", size=WireSize("1", SizeSystem.MM2), type="H07V-K")
    odd = wire("8", "-A1:1", "-A1:2", size=WireSize("3", SizeSystem.MM2), type="H07V-K")
    first, second = told(RULE, panel(**boxes((1, 1)), wires=[one, odd], outer_diameters={}))
    assert "in 1 mm²: H05V-K" in first.cure
    assert "H07V-K" not in first.cure
    assert "the tables have no type in 3 mm²" in second.cure
