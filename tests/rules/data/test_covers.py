"""Blank is not zero."""

import pytest

from ..builders import boxes, panel, told, verdict

RULE = "data.covers"


@pytest.mark.parametrize(("cover", "wanted"), [(0.0, "PASS"), (5.0, "PASS"), (None, "CAUTION")])
@pytest.mark.parametrize("side", ["left", "right", "top", "bottom", "front"])
def test_each_side(side, cover, wanted):
    assert verdict(RULE, panel(**boxes((1, 1), **{f"cover_{side}": cover}))) == wanted


def test_one_finding_a_device_names_all_sides():
    found = told(RULE, panel(**boxes((1, 1), (99, 1), cover_left=None, cover_front=None)))
    assert [one.subject for one in found] == ["-A1", "-A2"]
    assert "cover left, front" in found[0].message
    assert found[0].place.left == 1
