"""Assumed rooms are told with their reasons."""

import pytest

from ..builders import boxes, clear, need, panel, told, verdict

RULE = "data.clear-space"


@pytest.mark.parametrize(("stated", "wanted"), [(True, "PASS"), (False, "CAUTION")])
@pytest.mark.parametrize("room", [0.0, 15.0])
def test_stated_or_not(room, stated, wanted):
    needs = {"-A1": clear(left=need(room, stated=stated))}
    assert verdict(RULE, panel(**boxes((1, 1)), clear=needs)) == wanted


def test_sides_of_one_reason_are_told_together():
    heat = need(13, stated=False, reason="68 W of heat")
    needs = {"-A1": clear(left=heat, right=heat, top=need(30, stated=False))}
    (found,) = told(RULE, panel(**boxes((1, 1)), clear=needs))
    assert "left, right 13 mm (68 W of heat); top 30 mm" in found.message
