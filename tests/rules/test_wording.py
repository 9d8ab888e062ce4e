"""Lengths in cures are rounded up, so that following them is enough."""

import pytest

from platewright.foundation.tag_order import listed
from platewright.model.geometry import Box
from platewright.rules.wording import common, in_brackets, mm, way_out

from .builders import need


@pytest.mark.parametrize(
    ("length", "text"),
    [(12.5, "12.5 mm"), (12.51, "12.6 mm"), (0.01, "0.1 mm"), (0.3, "0.3 mm"), (-4.0, "0.0 mm")],
)
def test_rounded_up(length, text):
    assert mm(length) == text


@pytest.mark.parametrize(
    ("box", "way"),
    [
        (Box(8, 0, 18, 10), "2.0 mm right"),
        (Box(-8, 0, 2, 10), "2.0 mm left"),
        (Box(0, 7, 10, 17), "3.0 mm up"),
        (Box(0, -7, 10, 3), "3.0 mm down"),
    ],
)
def test_the_shortest_way_out(box, way):
    assert way_out(box, Box(0, 0, 10, 10)) == way


def test_what_two_boxes_share():
    assert common(Box(0, 0, 10, 10), Box(4, 6, 20, 8)) == Box(4, 6, 10, 8)


def test_long_lists_are_cut():
    assert listed(["a", "b"]) == "a, b"
    assert listed(list("abcdefgh")) == "a, b, c, d, e, f and 2 more"


@pytest.mark.parametrize(
    ("reason", "stated", "text"),
    [
        ("", True, ""),
        ("heat", True, " (heat)"),
        ("", False, " (assumed)"),
        ("heat", False, " (heat, assumed)"),
        ("assumed for 70 W", False, " (assumed for 70 W)"),
    ],
)
def test_reasons(reason, stated, text):
    assert in_brackets(need(10, stated=stated, reason=reason)) == text
