"""A hole of 4.2 on a plate of 800 × 600."""

import pytest

from ..builders import hole, panel, verdict

RULE = "fabrication.hole-outside"


@pytest.mark.parametrize(
    ("place", "wanted"),
    [
        ((2.1, 300), "PASS"),
        ((2.2, 300), "PASS"),
        ((2.0, 300), "FAIL"),
        ((797.9, 300), "PASS"),
        ((798.0, 300), "FAIL"),
        ((300, 597.9), "PASS"),
        ((300, 598.0), "FAIL"),
        ((300, -5), "FAIL"),
    ],
)
def test_edges(place, wanted):
    assert verdict(RULE, panel(layout={"holes": {"H1": hole(*place)}})) == wanted
