"""Lengths in cures are rounded up, so that following them is enough."""

import re
from dataclasses import replace

import pytest

from platewright.foundation.tag_order import listed
from platewright.model.finding import Verdict
from platewright.model.geometry import Box
from platewright.model.job import DisplayUnit
from platewright.rules.registry import run_rules
from platewright.rules.wording import (
    common,
    enough,
    in_brackets,
    length_of,
    place_of,
    way_out,
    words_in,
)

from .builders import boxes, hole, need, panel, with_job


@pytest.mark.parametrize(
    ("length", "text"),
    [(12.5, "12.5 mm"), (12.51, "12.6 mm"), (0.01, "0.1 mm"), (0.3, "0.3 mm"), (-4.0, "0.0 mm")],
)
def test_rounded_up(length, text):
    assert enough(length) == text


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


@pytest.mark.parametrize(
    ("length", "inches"),
    [(25.4, "1.00 in"), (25.5, "1.01 in"), (0.01, "0.01 in"), (6.35, "0.25 in"), (-4.0, "0.00 in")],
)
def test_cures_of_a_job_in_inches(length, inches):
    """Rounded up to 0.01: an inch is 25.4 mm. Outside the rules' run all is mm again."""
    with words_in(DisplayUnit.INCH):
        assert enough(length) == inches
    assert enough(25.4) == "25.4 mm"


def test_lengths_told_in_both_units():
    seen = lambda: (length_of(266.7), length_of(2.667, 3), length_of(6.35, None), place_of(0, 38.1))  # noqa: E731
    assert seen() == ("266.7 mm", "2.667 mm", "6.35 mm", "0.0, 38.1")
    with words_in(DisplayUnit.INCH):
        assert seen() == ("10.50 in", "0.105 in", "0.25 in", "0.00, 1.50")


def test_findings_of_a_job_in_inches_have_no_mm():
    """Two overlapping boxes and holes too near: words in inches, values for programs in mm."""
    near = {"H1": hole(50, 50), "H2": hole(56.35, 50)}
    metric = panel(**boxes((100, 100), (130, 100)), layout={"holes": near})
    inch = with_job(metric)
    units = replace(inch.job.settings, units=DisplayUnit.INCH)
    inch = replace(inch, job=replace(inch.job, settings=units))
    found = [f for f in run_rules(inch) if f.verdict is not Verdict.PASS]
    assert any("0.25 in, at least" in f.message for f in found)  # 6.35 mm between the two holes
    assert any("0.40 in left" in f.cure for f in found)  # they share 10 mm
    words = [f"{f.message} {f.cure}" for f in found]
    assert not [line for line in words if re.search(r"\d mm\b(?!²)", line)]
    spaced = next(f for f in found if f.rule.id == "fabrication.hole-spacing")
    assert (round(spaced.measured or 0, 3), spaced.unit) == (6.35, "mm")
    assert any("10.0 mm left" in f.cure for f in run_rules(metric))


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
