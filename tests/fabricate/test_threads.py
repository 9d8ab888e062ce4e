"""Threads in plates against published and handbook values.

Sources: UL 98 6.7.2.5 (two full threads, metal of 1.27 mm at least); ISO 273 (clearance
holes, medium fit); tap drills and percentages of thread: handbook drill and tap charts;
sheet gauges: manufacturers' standard gauge (14 ga 1.897 mm, 12 ga 2.657 mm).
"""

import pytest

from platewright.fabricate.threads import (
    FEWEST_THREADS,
    THINNEST_TAPPED,
    engaged_threads,
    hole_choice,
    known_thread,
    percent_thread,
)
from platewright.foundation.errors import InputErrors
from platewright.foundation.sources import Standing
from platewright.foundation.units import MM_PER_INCH
from platewright.model.layout import HoleKind

GA14, GA12 = 1.897, 2.657


# thickness over pitch, worked by hand; the two marks of the trade's own table
@pytest.mark.parametrize(
    ("screw", "thickness", "threads", "kind"),
    [
        ("M5", 2.0, 2.50, HoleKind.TAPPED),
        ("M6", 2.0, 2.00, HoleKind.TAPPED),  # on the limit: passes
        ("M8", 2.0, 1.60, HoleKind.CLEARANCE),
        ("M5", 1.5, 1.88, HoleKind.CLEARANCE),
        ("M6", GA14, 1.90, HoleKind.CLEARANCE),
        ("M8", 2.5, 2.00, HoleKind.TAPPED),
        ("#10-24", GA14, 1.79, HoleKind.CLEARANCE),
        ("#10-32", GA14, 2.39, HoleKind.TAPPED),
        ("10-24", GA12, 2.51, HoleKind.TAPPED),
        ("1/4-20", GA14, 1.49, HoleKind.CLEARANCE),
        ("1/4-20", 2.5, 1.97, HoleKind.CLEARANCE),
        ("1/4-28", GA14, 2.09, HoleKind.TAPPED),
        ("5/16-18", GA12, 1.88, HoleKind.CLEARANCE),
        ("5/16-18", 3.0, 2.13, HoleKind.TAPPED),
        ("3/8-16", GA12, 1.67, HoleKind.CLEARANCE),
    ],
)
def test_threads_held_and_what_follows(
    screw: str, thickness: float, threads: float, kind: HoleKind
) -> None:
    assert engaged_threads(known_thread(screw), thickness) == pytest.approx(threads, abs=0.0051)
    assert hole_choice(screw, thickness=thickness, material="steel").kind is kind


@pytest.mark.parametrize(
    ("screw", "drill"),
    [("M4", 3.3), ("M5", 4.2), ("M6", 5.0), ("M8", 6.8), ("10-32", 4.04), ("1/4-20", 5.11)],
)
def test_tapped_holes_take_the_chart_drill(screw: str, drill: float) -> None:
    choice = hole_choice(screw, thickness=4.0, material="steel")
    assert choice.kind is HoleKind.TAPPED
    assert choice.drill == pytest.approx(drill, abs=0.01)


@pytest.mark.parametrize(("screw", "drill"), [("M5", 5.5), ("M6", 6.6), ("M8", 9.0)])
def test_through_holes_take_the_medium_clearance(screw: str, drill: float) -> None:
    """ISO 273, medium."""
    choice = hole_choice(screw, thickness=1.5, material="steel")
    assert choice.kind is HoleKind.CLEARANCE
    assert choice.drill == drill


@pytest.mark.parametrize(
    ("major", "drill", "pitch", "percent"),
    [
        (5.0, 4.2, 0.8, 77.0),
        (0.250 * MM_PER_INCH, 0.201 * MM_PER_INCH, MM_PER_INCH / 20, 75.4),
        (0.164 * MM_PER_INCH, 0.136 * MM_PER_INCH, MM_PER_INCH / 32, 69.0),
    ],
)
def test_percent_of_thread(major: float, drill: float, pitch: float, percent: float) -> None:
    """Drill and tap charts: n (D - d) / 0.01299 (inch), 76.98 (D - d) / P (metric)."""
    assert 100 * percent_thread(major, drill=drill, pitch=pitch) == pytest.approx(percent, abs=0.1)


def test_chart_drills_leave_a_usual_thread() -> None:
    for screw in ("M3", "M4", "M5", "M6", "M8", "6-32", "10-32", "1/4-20"):
        size = known_thread(screw)
        share = percent_thread(size.major, drill=size.tap_drill, pitch=size.pitch)
        assert 0.65 < share < 0.85, screw


def test_limit_of_two_threads_at_and_beside() -> None:
    m6 = known_thread("M6")
    at = FEWEST_THREADS * m6.pitch
    kinds = [
        hole_choice("M6", thickness=t, material="steel").kind for t in (at - 0.01, at, at + 0.01)
    ]
    assert kinds == [HoleKind.CLEARANCE, HoleKind.TAPPED, HoleKind.TAPPED]


def test_thinner_than_the_thinnest_tapped_sheet() -> None:
    at = hole_choice("M3", thickness=THINNEST_TAPPED, material="steel")
    below = hole_choice("M3", thickness=THINNEST_TAPPED - 0.01, material="steel")
    assert at.kind is HoleKind.TAPPED
    assert below.kind is HoleKind.CLEARANCE
    assert "1.27 mm" in below.reason


def test_aluminium_needs_more_threads_by_practice() -> None:
    choice = hole_choice("M6", thickness=2.5, material="aluminium")
    assert choice.kind is HoleKind.CLEARANCE
    assert choice.source.standing is Standing.PRACTICE
    assert hole_choice("M6", thickness=3.0, material="aluminium").kind is HoleKind.TAPPED


def test_the_reason_says_how_many_and_how_many_are_needed() -> None:
    reason = hole_choice("M6", thickness=1.9, material="steel").reason
    assert reason == "M6 in 1.9 mm steel: 1.90 threads, 2 needed; bolt and nut"


def test_unknown_thread_is_told_with_its_cure() -> None:
    with pytest.raises(InputErrors, match=r"M55.*not have.*M5"):
        hole_choice("M55", thickness=2.0, material="steel")
